// What the office says about a job rather than about the work: who has it, when it is promised, which vehicle it is.
import type { Act } from '../../../shared/reading.ts';

/** Orders the desk itself understands, beside the commands of the language. */
export type OrderName =
  | 'assign'
  | 'controller'
  | 'promise'
  | 'move-message'
  | 'merge-job'
  | 'reopen-job'
  | 'close-job'
  | 'odometer'
  | 'new-plan'
  | 'other-plan'
  | 'other-vehicle'
  | 'take-over';

/** One way of saying an order: its whole message, or nothing. */
export type OrderForm = {
  readonly name: OrderName;
  /** Sentences that are the order, and sentences that are not. */
  readonly yes: readonly string[];
  readonly no: readonly string[];
  readonly read: (text: string, known: OrderContext) => OrderSaid | undefined;
};

export type OrderContext = {
  /** Numbers of jobs, so that "1043" is read as one. */
  readonly jobs: readonly string[];
  /** The person behind a name people use, as the settings spell it. */
  readonly person: (name: string) => string | undefined;
  /** Whether the bot has just asked for the odometer. */
  readonly odometerAsked: boolean;
};

/** What an order says beyond its name; the rest stands in the text. */
export type OrderSaid = Partial<Pick<Act, 'by' | 'job' | 'quantity' | 'count' | 'note' | 'time'>>;
