// How what people do reaches the floor: written down, shown in its thread, taken in, and only then acknowledged.
import type { Delivery } from '../../../../shared/delivery.ts';
import type { Intake } from '../../channel.ts';
import type { BenchLog } from '../bench-options.ts';
import { isRefusal, type Refusal, refusal } from '../refusal.ts';
import type { Arrivals } from './arrivals.ts';
import type { Conversation } from './conversation.ts';
import type { Line } from './entry.ts';

export type HandIn = {
  /**
   * Resolves with `taken` once the floor has the delivery on disk. The same id again is the same delivery.
   * @param chosenOn the shared tablet on which the poster was only chosen
   */
  readonly take: (delivery: Delivery, chosenOn?: string) => Promise<'taken' | Refusal>;
  /** Hands in again what was written down and not known to be taken in before the last stop. */
  readonly takeLeft: () => Promise<void>;
};

export const DELIVERY_PREFIX = 'bench:';

export function openHandIn(
  conversation: Conversation,
  arrivals: Arrivals,
  intake: Intake,
  log?: BenchLog,
  onArrival: (delivery: Delivery) => void = () => undefined,
): HandIn {
  const take: HandIn['take'] = async (delivery, chosenOn) => {
    const roll = await conversation.rollAt(delivery.thread);
    if (roll === undefined) {
      return refusal(404, 'This thread is not on the bench.', 'Open the job from the yard again.');
    }
    const line = lineOf(delivery, chosenOn);
    const known = line === undefined ? undefined : roll.byClient(line.client);
    if (known?.by !== undefined && known.by !== delivery.person) {
      return refusal(
        409,
        'This was sent before by somebody else.',
        'Reload the page and send it again.',
      );
    }
    if (known !== undefined && !arrivals.isHeld(delivery.id)) return 'taken';
    try {
      await arrivals.hold(delivery);
      onArrival(delivery);
      const entry =
        line === undefined || known !== undefined
          ? known
          : await conversation.add(roll, line, true);
      await intake.accept(delivery);
      await arrivals.release(delivery);
      if (entry !== undefined) conversation.tell(roll, entry);
      return 'taken';
    } catch (error) {
      log?.error({ delivery: delivery.id, error }, 'A delivery was not taken in');
      return refusal(
        503,
        'It is not recorded: it did not reach the disk.',
        'It is kept here; send it again in a moment, and tell the controller if it stays so.',
      );
    }
  };

  return {
    take,
    takeLeft: async () => {
      for (const delivery of await arrivals.left()) {
        const result = await take(delivery);
        if (isRefusal(result)) {
          log?.error({ delivery: delivery.id, what: result.what }, 'An arrival is still waiting');
        }
      }
    },
  };
}

/** What a delivery writes into its thread; a tap writes nothing. */
export function lineOf(
  delivery: Delivery,
  chosenOn: string | undefined,
): (Line & { readonly client: string }) | undefined {
  const client = delivery.id.slice(DELIVERY_PREFIX.length);
  const { at, person } = delivery;
  switch (delivery.kind) {
    case 'message':
      return {
        what: 'said',
        id: delivery.message,
        client,
        at,
        by: person,
        text: delivery.text,
        ...(delivery.typed === undefined ? {} : { typed: delivery.typed }),
        ...(chosenOn === undefined ? {} : { chosenOn }),
        ...(delivery.files === undefined ? {} : { files: delivery.files }),
      };
    case 'edit':
      return { what: 'changed', id: delivery.message, client, at, text: delivery.text };
    case 'delete':
      return { what: 'taken-back', id: delivery.message, client, at };
    default:
      return undefined;
  }
}
