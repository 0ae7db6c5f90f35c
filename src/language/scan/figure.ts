// What the scanner can find. `from` and `to` are token places, `at` is the place in the raw text.

export type PositionQuery = {
  readonly noun?: string;
  readonly number?: number;
  readonly sides: readonly string[];
};

export type ClockTime = {
  readonly hour: number;
  readonly minute: number;
  /** Said on the twelve-hour clock, so it may be morning or afternoon. */
  readonly twelve: boolean;
};

export type FigureBody =
  | {
      readonly kind: 'quantity';
      readonly value: number;
      /** Spelled as in src/trade/units.ts. */
      readonly unit: string;
      readonly low?: number;
      readonly high?: number;
      readonly approx?: boolean;
      readonly doubtful?: boolean;
    }
  /** A number without a unit: what it is depends on the step. */
  | {
      readonly kind: 'number';
      readonly value: number;
      readonly low?: number;
      readonly high?: number;
      readonly approx?: boolean;
      readonly doubtful?: boolean;
    }
  | {
      readonly kind: 'positions';
      readonly queries: readonly PositionQuery[];
      /** Numbers without a word before them. */
      readonly bare: boolean;
    }
  | {
      readonly kind: 'all';
      readonly count?: number;
      readonly pair?: boolean;
      readonly sides?: readonly string[];
    }
  /** "the rest", "the others": what was not named before. */
  | { readonly kind: 'rest' }
  | { readonly kind: 'count'; readonly done: number; readonly of?: number }
  | { readonly kind: 'left'; readonly left: number; readonly toDo: boolean }
  | { readonly kind: 'stage'; readonly stages: readonly number[] }
  | { readonly kind: 'code'; readonly code: string; readonly spelled: boolean }
  | { readonly kind: 'trouble-code'; readonly code: string }
  | {
      readonly kind: 'time';
      readonly clock?: ClockTime;
      readonly minutesAgo?: number;
      readonly yesterday?: boolean;
      readonly moment?: string;
    }
  | { readonly kind: 'job'; readonly job: string }
  | { readonly kind: 'tool'; readonly tool: string };

export type Figure = FigureBody & {
  readonly from: number;
  readonly to: number;
  readonly at: readonly [from: number, to: number];
};

/** What a scanner needs to know beside the tokens. */
export type ScanWords = {
  readonly units: Readonly<Record<string, string>>;
  /** Kinds of unit the open plan can use; one-letter units of other kinds are not read. */
  readonly usable?: ReadonlySet<string> | undefined;
  readonly positionNouns: ReadonlySet<string>;
  readonly stageNouns: ReadonlySet<string>;
  readonly ordinals: Readonly<Record<string, number>>;
  readonly letters: Readonly<Record<string, string>>;
  readonly heardNumbers: Readonly<Record<string, number>>;
  readonly jobs: ReadonlySet<string>;
  /** Sides and ends that the plan names; null where no plan is open. */
  readonly sidesOfPlan: ReadonlySet<string> | null;
  /** Sides of each of the plan's positions that has any: what stands side by side can be told apart by them. */
  readonly sidesOfPlaces?: readonly (readonly string[])[] | undefined;
  readonly moments: ReadonlySet<string>;
  /** Figures of the plan's stages and limits; "25/55" are two of them and no count. */
  readonly planFigures?: ReadonlySet<number> | undefined;
  /** The highest number among the plan's positions, 0 where they have none; left out where no plan is open. */
  readonly highestPlace?: number | undefined;
  /** Minutes of the day at which the message was posted, where that is known. */
  readonly postedAt?: number | undefined;
  readonly raw: string;
};

/** What one scanner made of the tokens from a place on. */
export type Hit = { readonly body: FigureBody; readonly next: number; readonly from?: number };
