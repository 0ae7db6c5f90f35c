// What Teams takes. Source: learn.microsoft.com, "Limits and specifications for Microsoft Teams", "Rate limiting for
// bots" and "Adaptive Cards schema 1.5", read in 2025; the byte limit is ours and lower, since the mentions and the
// envelope count too.

/** Bytes of an activity as it is sent: Teams takes about 28 KB and advises 25. */
export const MOST_BYTES = 22_000;
/** Characters of the line shown in a notification. */
export const SUMMARY_LENGTH = 400;
export const TITLE_LENGTH = 200;
export const LABEL_LENGTH = 60;
/** Characters of one text in a card; the whole is bounded by its bytes. */
export const TEXT_LENGTH = 4_000;
/** Buttons in a row: Teams shows six, the rest behind a menu. */
export const MOST_ACTIONS = 20;
/** Bytes of a picture that travels inside the card; a larger one is linked to. */
export const INLINE_PICTURE = 9_000;
/** Bytes of a request's body that are read. */
export const BODY_LIMIT = 512 * 1024;
