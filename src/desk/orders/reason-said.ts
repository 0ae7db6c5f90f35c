// "… because the bus was sold": the reason behind a decision, in the words of the one who took it.

const MARKS = /\b(?:because|since|as|due to|reason:?|weil|grund:?)\s+(.+)$/isu;

/** The words behind "because"; undefined where none is given. */
export const reasonSaid = (text: string): string | undefined => {
  const found =
    /\bbecause\s+(.+)$/isu.exec(text) ?? MARKS.exec(text) ?? /[,:;]\s+(.{4,})$/su.exec(text);
  const reason = found?.[1]
    ?.replace(/\s+/gu, ' ')
    .replace(/[.\s]+$/u, '')
    .trim();
  return reason ? reason.slice(0, 500) : undefined;
};
