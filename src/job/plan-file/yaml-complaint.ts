// What the YAML parser found, in a workshop's words.
import type { ErrorCode, YAMLError } from 'yaml';
import type { Complaint } from '../../../shared/plan.ts';

type Words = Pick<Complaint, 'what' | 'expected' | 'mend'>;

const INDENT: Words = {
  what: 'The line does not begin under the lines it belongs to.',
  expected: 'Lines of one group begin at the same column, two spaces in for each level.',
  mend: 'Move it in line with its neighbours.',
};
const QUOTE: Words = {
  what: 'A quote or bracket is opened and not closed as it should be.',
  expected: 'Each " or \' or [ or { has its partner.',
  mend: 'Close it, or take both away: most texts need no quotes.',
};
const TAG: Words = {
  what: 'A word beginning with "!", "&", "*" or "%" has a special meaning that a plan does not use.',
  expected: 'Plain words, numbers, lists and groups.',
  mend: 'Put the text in "quotes".',
};
const COLON: Words = {
  what: 'A key or its colon is missing, or a text has ": " or " #" in it.',
  expected: 'key: value, one a line.',
  mend: 'Add the key and colon, or put the text in "quotes".',
};

const CODES: Partial<Record<ErrorCode, Words>> = {
  ALIAS_PROPS: TAG,
  BAD_ALIAS: TAG,
  BAD_DIRECTIVE: TAG,
  TAG_RESOLVE_FAILED: TAG,
  MULTIPLE_TAGS: TAG,
  MULTIPLE_ANCHORS: TAG,
  BAD_PROP_ORDER: TAG,
  NON_STRING_KEY: COLON,
  KEY_OVER_1024_CHARS: COLON,
  MISSING_CHAR: {
    what: 'Something is left open above, or a colon, comma, bracket or quote is missing here.',
    expected: 'key: value, one a line; each bracket and quote with its partner.',
    mend: 'Compare the line and the one above it with a shipped plan.',
  },
  BLOCK_AS_IMPLICIT_KEY: COLON,
  MULTILINE_IMPLICIT_KEY: COLON,
  UNEXPECTED_TOKEN: COLON,
  IMPOSSIBLE: COLON,
  BAD_SCALAR_START: {
    what: 'A text begins with a character that has a special meaning, such as @ or `.',
    expected: 'Texts beginning with a letter or digit, or in quotes.',
    mend: 'Put the text in "quotes".',
  },
  BAD_DQ_ESCAPE: {
    what: 'A backslash in a text in "double quotes" begins no known sign.',
    expected: "A backslash doubled, or a text in 'single quotes'.",
    mend: "Write the text in 'single quotes'.",
  },
  BAD_INDENT: INDENT,
  BAD_COLLECTION_TYPE: INDENT,
  BLOCK_IN_FLOW: QUOTE,
  MULTIPLE_DOCS: {
    what: 'A second document begins here, after "---" or "...".',
    expected: 'One plan a file.',
    mend: 'Take the line away, or move what follows into a file of its own.',
  },
  RESOURCE_EXHAUSTION: {
    what: 'Lists or groups stand inside each other too deep.',
    expected: 'A plan of a few levels.',
    mend: 'Look for a run of opening brackets and take it out.',
  },
  TAB_AS_INDENT: {
    what: 'The line begins with a tab.',
    expected: 'Spaces at the beginning of a line.',
    mend: 'Use two spaces for each level.',
  },
};

/** The complaint for a fault of the parser. Everything else in the file is read once this is mended. */
export function yamlComplaint(fault: YAMLError, line: number): Complaint {
  return { level: 'error', line, path: 'the file', ...(CODES[fault.code] ?? COLON) };
}
