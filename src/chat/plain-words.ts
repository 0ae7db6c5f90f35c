// Texts on their way into a card: no control characters, no marks that turn the direction of reading, no cut characters.

export const tidy = (text: string): string =>
  text
    .replace(/\r\n?/gu, '\n')
    .replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/gu, '')
    .replace(/\t/gu, ' ');

export const oneLine = (text: string): string => tidy(text).replace(/\s+/gu, ' ').trim() || '-';

/** At most `most` UTF-16 units, with "…" where something is left out; no character is cut in two. */
export const shorten = (text: string, most: number): string => {
  if (text.length <= most) return text;
  const cut = text.slice(0, most - 1);
  return `${/[\ud800-\udbff]$/u.test(cut) ? cut.slice(0, -1) : cut}…`;
};

/** Bytes of a value as it is sent. */
export const bytesOf = (value: unknown): number =>
  Buffer.byteLength(JSON.stringify(value) ?? '', 'utf8') + 1;
