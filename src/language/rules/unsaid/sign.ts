// A sign in the words of a whole message, or of the clause around an act, that speaks over a report in them.

export type Sign = {
  readonly name: string;
  /** The report is left out, or it is asked about. */
  readonly verdict: 'drop' | 'ask';
  readonly where: 'message' | 'clause';
  readonly words: RegExp;
  /** It speaks over findings, plans and denials too, and not only over reports. */
  readonly every?: true;
  /** Words that take the sign back. */
  readonly unless?: RegExp;
};

/** Examples beside a sign. `yes`: the sign speaks and nothing is recorded as done. `no`: it keeps quiet. */
export type SignExamples = {
  readonly yes: readonly string[];
  readonly no: readonly string[];
};
