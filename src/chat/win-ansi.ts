// Text in the characters that the standard fonts of PDF have (WinAnsi, which is Windows-1252).

/** What Windows-1252 has beyond Latin-1. Source: the mapping table cp1252 published by Unicode. */
const BEYOND = '€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ';

/** Characters written with others. */
const WRITTEN: Readonly<Record<string, string>> = {
  Ω: 'Ohm',
  '\u2126': 'Ohm',
  μ: 'µ',
  '−': '-',
  '‐': '-',
  '‑': '-',
  '→': '->',
  '≤': '<=',
  '≥': '>=',
  '≈': '~',
  '′': "'",
  '″': '"',
  '⋅': '·',
  '∙': '·',
  '\u00a0': ' ',
  '\u2009': ' ',
  '\u202f': ' ',
  '\u2007': ' ',
  '\t': ' ',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  Đ: 'D',
  ı: 'i',
  ẞ: 'SS',
};

const has = (character: string): boolean => {
  const code = character.codePointAt(0) ?? 0;
  return (
    code === 10 ||
    (code >= 32 && code < 127) ||
    (code > 160 && code < 256) ||
    BEYOND.includes(character)
  );
};

/** @returns the text as it can be printed, and how many characters stand as "?" */
export const winAnsi = (text: string): { readonly text: string; readonly replaced: number } => {
  let replaced = 0;
  const shown = [...text.normalize('NFC')].map((character) => {
    if (has(character)) return character;
    const written = WRITTEN[character];
    if (written !== undefined) return written;
    if (/^(?:\p{Cf}|\p{Mn})$/u.test(character)) return '';
    const bare = [...character.normalize('NFKD').replace(/\p{Mn}/gu, '')];
    if (bare.length > 0 && bare.every(has)) return bare.join('');
    replaced += 1;
    return '?';
  });
  return { text: shown.join(''), replaced };
};
