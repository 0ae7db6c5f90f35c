// Takes away what is not the writer's own words, keeping every offset: a masked place becomes spaces.

/** The same length as the raw text, so offsets need no table. */
export type Tidied = {
  readonly text: string;
  /** Parts that quote, forward or strike out: they report nothing. */
  readonly quoted: readonly (readonly [from: number, to: number])[];
};

const NEEDS_WORK =
  /[@<>&`~*_"“”„«»\u2018\u2019\u201b\u02bc\u00b4\u2010-\u2015\u2212\u00a0\u200b\u200c\u200e\u200f\u2060\ufeff\u0000-\u0008\u000b-\u001f\uff01-\uff5e\u00d7]|\u200d|\ufe0f|\u20e3/u;

const PASSED_ON =
  /^[ \t]*(?:fwd|fw|forwarded|weitergeleitet|wg)\b[^\n:]{0,60}:|^[^\n:]{1,40}(?:\bw[a-z]{2,4}e|wrote|\bwrites|\bposted|\btexted|\bsent|schrieb|\bschreibt)\s*:/im;

const blank = (match: string) => match.replace(/[^\n]/g, ' ');

/** One-to-one replacements: typographic signs to the plain ones. */
function plainSigns(text: string): string {
  return text
    .replace(/[\u2018\u2019\u201b\u02bc\u00b4]/g, "'")
    .replace(/[\u2010-\u2015\u2212]/g, '-')
    .replace(/[“”„«»]/g, '"')
    .replace(/\u00d7/g, 'x')
    .replace(/[\uff01-\uff5e]/g, (sign) => String.fromCharCode(sign.charCodeAt(0) - 0xfee0))
    .replace(
      /[\u00a0\u200b\u200c\u200e\u200f\u2060\ufeff\u0000-\u0008\u000b-\u001f]|\u200d|\ufe0f|\u20e3/g,
      ' ',
    );
}

/** Masks markup of chat platforms and collects what is quoted. */
export function tidyText(raw: string): Tidied {
  if (!NEEDS_WORK.test(raw) && !PASSED_ON.test(raw)) return { text: raw, quoted: [] };
  const quoted: [number, number][] = [];
  const mask = (match: string, offset: number) => {
    quoted.push([offset, offset + match.length]);
    return blank(match);
  };
  let text = plainSigns(raw);
  text = text
    .replace(/<quote[^>\n]{0,200}>[\s\S]{0,4000}?<\/quote>/gi, (m, o: number) => mask(m, o))
    .replace(/<blockquote[^>\n]{0,200}>[\s\S]{0,4000}?<\/blockquote>/gi, (m, o: number) =>
      mask(m, o),
    )
    .replace(/```[\s\S]{0,4000}?```/g, (m, o: number) => mask(m, o))
    .replace(/^[ \t]*(?:&gt;|>)[^\n]*/gm, (m, o: number) => mask(m, o))
    .replace(
      /^[ \t]*(?:fwd|fw|forwarded|weitergeleitet|wg)\b[^\n:]{0,60}:[^\n]*/gim,
      (m, o: number) => mask(m, o),
    )
    .replace(
      /^[^\n:]{1,40}(?:\bw[a-z]{2,4}e|wrote|\bwrites|\bposted|\btexted|\bsent|schrieb|\bschreibt)\s*:[^\n]*/gim,
      (m, o: number) => mask(m, o),
    )
    .replace(/~~[^~\n]{1,400}~~/g, (m, o: number) => mask(m, o))
    .replace(/~(?=\S)(?!\d)[^~\n]{1,400}~/g, (m, o: number) => mask(m, o))
    .replace(/<(?:at|del|s)>[^<\n]{0,200}<\/(?:at|del|s)>/gi, blank)
    .replace(/<[@#!][^>\n]{0,100}>/g, blank)
    .replace(/(?<![^\s,;(])@(?=\p{L})[\p{L}\d._-]{1,40}/gu, blank)
    .replace(/<(?:https?|mailto|tel):[^>|\n]{0,500}(?:\|[^>\n]{0,200})?>/gi, blank)
    .replace(/<\/?[a-z][^>\n]{0,100}>/gi, blank)
    .replace(/&amp;/g, '&    ')
    .replace(/&nbsp;/g, '      ')
    .replace(/&lt;/g, '<   ')
    .replace(/&gt;/g, '>   ');
  // A single code in quotation marks is the code itself; several words in them are somebody's words.
  text = text.replace(/"([^"\n]{1,400})"/g, (m, inside: string, o: number) => {
    if (
      (!/\s/.test(inside.trim()) && (/\d/.test(inside) || inside.trim().length < 3)) ||
      /\d$/.test(text.slice(Math.max(0, o - 1), o))
    )
      return m;
    return mask(m, o);
  });
  text = text.replace(/(^|\s)[*_]+(?=\S)|(?<=\S)[*_]+(?=\s|$|[.,])/g, (m) => blank(m));
  return { text, quoted };
}
