/** One thing broken on purpose, and the tests that must notice. */
export type Spoiling = {
  /** The file that is spoilt, from the project's folder. */
  readonly file: string;
  /** What the spoilt program would do wrong, in one line. */
  readonly says: string;
  /** A text that stands in the file exactly once, and what is put there. */
  readonly find: string;
  readonly put: string;
  /** The tests of that file: what vitest is asked to run. */
  readonly tests: readonly string[];
};

/** Several spoilings of one file with the same tests. */
export function spoilingsOf(
  file: string,
  tests: readonly string[],
  changes: readonly (readonly [says: string, find: string, put: string])[],
): readonly Spoiling[] {
  return changes.map(([says, find, put]) => ({ file, tests, says, find, put }));
}

/** The text with the spoiling in it. Throws where the place is not there exactly once: the list is out of date. */
export function spoilt(text: string, { file, find, put }: Spoiling): string {
  const parts = text.split(find);
  if (parts.length === 2 && find !== put) return parts.join(put);
  throw new Error(
    `"${find}" stands ${parts.length - 1} times in ${file}. Put a text into the list of spoilings that stands there once.`,
  );
}
