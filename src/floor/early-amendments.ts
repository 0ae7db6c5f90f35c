// An edit or a deletion in the open channel, where no job holds the message: of one that waits until its job is chosen, or of
// one that has not come yet. In a job's thread the job keeps what comes early; here it is kept for minutes only, since words
// that concern no job are none of the program's business.
import { Delivery } from '../../shared/delivery.ts';
import type { JobStore } from '../store/job-store.ts';
import { chooseMark } from './choose-mark.ts';
import type { Floor } from './floor.ts';
import { messageId } from './message-id.ts';

type Amendment = Extract<Delivery, { kind: 'edit' | 'delete' }>;
type Message = Extract<Delivery, { kind: 'message' }>;
type Here = Pick<Floor, 'store' | 'clock' | 'schedule'>;

/** Platforms deliver again within 6 minutes; after that a message does not come any more. */
const KEPT_SECONDS = 600;
const MOST_KEPT = 20;
/** Messages of the channel whose coming is remembered, so that nothing of what is edited in it is kept. */
const MOST_HEARD = 500;

const heardOf = new WeakMap<JobStore, Set<string>>();

const markOf = ({ channel, team, place }: Delivery): string => `early:${channel}:${team}:${place}`;

const keptIn = async (
  { store, clock }: Here,
  delivery: Delivery,
): Promise<readonly Amendment[]> => {
  const text = await store.mark(markOf(delivery));
  if (!text) return [];
  const found: unknown = JSON.parse(text);
  const since = Date.parse(clock()) - KEPT_SECONDS * 1000;
  const kept = (Array.isArray(found) ? found : []).flatMap(
    (each: unknown): readonly Amendment[] => {
      const { success, data } = Delivery.safeParse(each);
      if (!success || (data.kind !== 'edit' && data.kind !== 'delete')) return [];
      return Date.parse(data.at) >= since ? [data] : [];
    },
  );
  // The timer of a process that is gone does not run any more.
  if (kept.length === 0) await store.setMark(markOf(delivery), '');
  return kept;
};

const keep = async (here: Here, amendment: Amendment): Promise<void> => {
  const kept = await keptIn(here, amendment);
  if (kept.some(({ id }) => id === amendment.id)) return;
  const mark = markOf(amendment);
  await here.store.setMark(mark, JSON.stringify([...kept, amendment].slice(-MOST_KEPT)));
  const end = new Date(Date.parse(here.clock()) + KEPT_SECONDS * 1000).toISOString();
  here.schedule.at(mark, end, () => void here.store.setMark(mark, '').catch(() => undefined));
};

/** The message as it is after its amendments; undefined once it is deleted. An edited one counts from its edit. */
const amended = (message: Message, by: readonly Amendment[]): Message | undefined => {
  if (by.some(({ kind }) => kind === 'delete')) return undefined;
  const newest = by
    .filter((each) => each.kind === 'edit')
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at))
    .at(-1);
  return newest === undefined || newest.text === message.text
    ? message
    : { ...message, text: newest.text, at: newest.at };
};

/** Takes an edit or a deletion of a message that is on no job. */
export const takeEarly = async (here: Here, amendment: Amendment): Promise<void> => {
  const { store } = here;
  // The id of an amendment begins with that of its message.
  const mark = chooseMark(amendment.id.replace(/:(?:edited:.*|back:.*|deleted(?::.*)?)$/u, ''));
  const waits = await store.mark(mark);
  if (waits) {
    const { success, data } = Delivery.safeParse(JSON.parse(waits));
    if (!success || data.kind !== 'message') return;
    const now = amended(data, [amendment]);
    return store.setMark(mark, now === undefined ? '' : JSON.stringify(now));
  }
  if (!heardOf.get(store)?.has(messageId(amendment))) await keep(here, amendment);
};

/** A message that comes now, as its writer has it by now; undefined where it was deleted already. */
export const asAmended = async (here: Here, message: Message): Promise<Message | undefined> => {
  const heard = heardOf.get(here.store) ?? new Set();
  heardOf.set(here.store, heard.add(messageId(message)));
  if (heard.size > MOST_HEARD) heard.delete([...heard][0] ?? '');
  const own = (await keptIn(here, message)).filter((each) => each.message === message.message);
  return amended(message, own);
};
