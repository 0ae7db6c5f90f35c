// Slack's markup of texts: read on the way in, made harmless on the way out. Source: docs.slack.dev,
// messaging/formatting-message-text: & < > are written as entities, everything between < and > is a reference.

/** Finds the name behind a member id; undefined when nobody is known by it. */
export type NameOf = (id: string) => string | undefined;

const ENTITIES: Readonly<Record<string, string>> = { '&amp;': '&', '&lt;': '<', '&gt;': '>' };

const withoutEntities = (text: string): string =>
  text.replace(/&(?:amp|lt|gt);/gu, (entity) => ENTITIES[entity] ?? entity);

const reference = (inside: string, nameOf: NameOf): string => {
  const bar = inside.indexOf('|');
  const target = bar < 0 ? inside : inside.slice(0, bar);
  const label = bar < 0 ? '' : inside.slice(bar + 1);
  if (target.startsWith('@')) return nameOf(target.slice(1)) ?? (label || target);
  if (target.startsWith('#')) return label ? `#${label.replace(/^#/u, '')}` : target;
  if (/^!(?:here|channel|everyone)$/u.test(target)) return `@${target.slice(1)}`;
  if (target.startsWith('!')) return label;
  return label || target.replace(/^(?:mailto|tel):/u, '');
};

/** The text as its writer sees it: entities, mentions and links decoded, the bot's own mention taken out. */
export const readText = (text: string, nameOf: NameOf, self?: string): string => {
  const own = self ? new RegExp(`\\s*<@${self}(?:\\|[^>]*)?>[:,]?`, 'gu') : undefined;
  const without = own ? text.replace(own, '') : text;
  const plain = without.replace(/<([^<>\n]+)>/gu, (_, inside: string) => reference(inside, nameOf));
  const decoded = withoutEntities(plain);
  return own && without !== text ? decoded.trim() : decoded;
};

/** Escaped so that nothing in it is a mention, a channel or a link. */
export const escapeText = (text: string): string =>
  text.replace(/&/gu, '&amp;').replace(/</gu, '&lt;').replace(/>/gu, '&gt;');

/** As `shorten`, after escaping: an entity is never cut in two either. */
export const escapeWithin = (text: string, most: number): string => {
  const whole = escapeText(text);
  if (whole.length <= most) return whole;
  let shown = '';
  for (const character of text) {
    const next = escapeText(character);
    if (shown.length + next.length > most - 1) break;
    shown += next;
  }
  return `${shown}…`;
};
