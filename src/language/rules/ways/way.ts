// A way of saying that something happened, with the titles it may stand for.

export type Way = {
  readonly name: string;
  readonly words: RegExp;
  readonly unless?: RegExp;
  /** The titles it may stand for, the likeliest first. */
  readonly titles: readonly RegExp[];
};

/** Examples beside a way. `yes`: it is read as done where the plan has it. `no`: it is not. */
export type WayExamples = {
  readonly yes: readonly string[];
  readonly no: readonly string[];
};
