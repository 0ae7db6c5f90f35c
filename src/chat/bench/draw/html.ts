// Markup is only ever made through this template tag, which escapes every text put into it.

export type Markup = { readonly markup: string };
export type Piece = string | number | Markup | readonly Piece[] | false | null | undefined;

const NAMED: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/**
 * Text as it may stand in markup, between tags or in a quoted attribute. Control characters become their visible
 * pictures, and marks that turn the reading direction become a replacement sign, so that no text can hide a figure.
 */
export function escapeText(text: string): string {
  return text
    .replace(/[&<>"']/g, (sign) => NAMED[sign] ?? '')
    .replace(/[\u0000-\u0008\u000b-\u001f]/g, (sign) =>
      String.fromCharCode(0x2400 + sign.charCodeAt(0)),
    )
    .replace(/[\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]|\p{Cs}/gu, '\ufffd');
}

/** Markup from a template: texts are escaped, markup passes, lists are joined, nothing stays nothing. */
export function html(parts: TemplateStringsArray, ...pieces: readonly Piece[]): Markup {
  return {
    markup: parts.map((part, at) => part + (at < pieces.length ? drawn(pieces[at]) : '')).join(''),
  };
}

function drawn(piece: Piece): string {
  if (piece === false || piece === null || piece === undefined) return '';
  if (typeof piece === 'string') return escapeText(piece);
  if (typeof piece === 'number') return String(piece);
  if ('markup' in piece) return piece.markup;
  return piece.map(drawn).join('');
}
