// What has been read of a message so far, and what it spoke of last.
import type { Act, ActKind, Quantity } from '../../../shared/reading.ts';
import type { StepPhrases } from '../match/phrases.ts';
import type { Wanted } from '../match/score.ts';

/** What was said last, in this message or before it: the step that "and 5" goes on with. */
export type Focus = {
  readonly step: StepPhrases;
  readonly positions: readonly string[];
  readonly kind: ActKind;
  /** The message it came from; empty for this one. */
  readonly from: string;
  readonly stage?: number;
  /** The figure reported with it, which "same on the other side" says again. */
  readonly quantity?: Quantity;
};

export type ReadSoFar = {
  readonly acts: Act[];
  readonly explained: string[];
  readonly relied: Set<string>;
  /** What the words of each act offered for its step. */
  readonly said: Map<Act, Wanted>;
  focus: Focus | undefined;
};
