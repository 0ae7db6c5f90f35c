// What Slack takes. Source: docs.slack.dev, reference/block-kit and reference/methods, read in 2025; the two totals are
// ours and lower, since Slack refuses blocks of about 13,200 characters together although no page says so.

/** Blocks in one message: Slack takes 50. */
export const MOST_BLOCKS = 45;
/** Characters of all blocks of a message together, counted as the JSON that is sent. */
export const MOST_CHARACTERS = 10_000;
/** The `text` of a message. Slack cuts at 40,000 and advises 4,000. */
export const TEXT_LENGTH = 3_900;

export const HEADER_LENGTH = 150;
export const SECTION_LENGTH = 3_000;
export const BUTTON_LENGTH = 75;
export const VALUE_LENGTH = 2_000;
export const ACTIONS_ELEMENTS = 25;

export const BLOCK_ID = 255;
export const CONFIRM_TITLE = 100;
export const CONFIRM_TEXT = 300;
export const CONFIRM_BUTTON = 30;

export const VIEW_BLOCKS = 100;
export const VIEW_TITLE = 24;
export const PRIVATE_METADATA = 3_000;
export const LABEL_LENGTH = 2_000;
export const OPTION_TEXT = 75;
/** The reference says 150, the comment beside the published type 75: the lower one, which our names and numbers keep. */
export const OPTION_VALUE = 75;
export const SELECT_OPTIONS = 100;
export const OPTION_GROUPS = 100;
export const INPUT_LENGTH = 3_000;

/** Title and description of an uploaded file; Slack names no limit for the title, so it is kept short. */
export const UPLOAD_TITLE = 150;
export const UPLOAD_ALT = 1_000;
