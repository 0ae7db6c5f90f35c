/** The parts of an answer in one line. `source` says where the figures come from: "the plan: demonstration values". */
export type AnswerParts = {
  readonly figure: string;
  readonly basis: string;
  readonly cautions?: readonly string[];
  readonly source?: string | undefined;
};

/**
 * One line: the figure first, what it rests on in brackets, whole sentences of caution, and that the maker's data
 * comes before anything worked out here.
 */
export function sayAnswer({ figure, basis, cautions = [], source }: AnswerParts): string {
  const last = source
    ? `Figures from ${source}; the maker's data comes first.`
    : "The maker's data comes first.";
  return [`${figure} (${basis}).`, ...cautions, last].join(' ');
}
