// Every kind of card on every channel side by side, as one page without scripts.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { actsMarkup } from '../../chat/bench/draw/act.ts';
import { cardBody } from '../../chat/bench/draw/entry-line.ts';
import { html, type Markup } from '../../chat/bench/draw/html.ts';
import { LEVEL_WORD } from '../../chat/bench/draw/level.ts';
import { cardLines } from '../../chat/bench/terminal-words.ts';
import type { Card } from '../../desk/card.ts';
import type { GalleryCard } from './demo-cards.ts';
import { slackLook } from './slack-look.ts';
import { teamsLook } from './teams-look.ts';

export const COLUMNS = ['Bench page', 'Terminal', 'Slack', 'Teams', 'Text alone'] as const;

const STYLE = join(import.meta.dirname, 'gallery.css');
const BENCH_STYLE = join(import.meta.dirname, '..', '..', 'chat', 'bench', 'page', 'bench.css');

const raw = (markup: string): Markup => ({ markup });

/** Each picture once, light or dark as the page is; the ids within a drawing would collide, so it stands as an image. */
const pictureOf = ({ picture }: Card): Markup => {
  if (!picture) return html``;
  const source = (svg: string): string =>
    `data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`;
  const dark = picture.dark
    ? html`<source media="(prefers-color-scheme: dark)" srcset="${source(picture.dark)}">`
    : '';
  return html`<picture>${dark}<img src="${source(picture.svg)}" alt="${picture.alt}"></picture>`;
};

const benchLook = (card: Card, picture: Markup): Markup => {
  const { picture: drawn, ...words } = card;
  const level = card.level;
  return html`<article class="slip${level === undefined ? '' : ` flag ${level}`}">${level === undefined ? '' : html`<p class="level">${LEVEL_WORD[level]}</p>`}${cardBody(words, { id: 'gallery', thread: null })}${drawn ? picture : ''}${card.tells?.length ? html`<p class="small">For ${card.tells.join(', ')}</p>` : ''}${actsMarkup(card.actions, {})}</article>`;
};

const terminalLook = (card: Card): Markup => {
  const numbers = (card.actions ?? []).map((action, index) => [index + 1, action] as const);
  return html`<pre>${cardLines(card, numbers).join('\n')}</pre>`;
};

const rowOf = ({ kind, from, card }: GalleryCard): Markup => {
  const picture = pictureOf(card);
  const cells = [
    benchLook(card, picture),
    terminalLook(card),
    slackLook(card, picture),
    teamsLook(card, picture),
    html`<p class="pre">${card.text}</p>`,
  ];
  return html`<section class="row"><h2>${kind} <small>${from}</small></h2><div class="cells">${cells.map((cell, index) => html`<div class="cell"><h3>${COLUMNS[index]}</h3>${cell}</div>`)}</div></section>`;
};

/** @returns the whole page */
export const galleryPage = async (cards: readonly GalleryCard[]): Promise<string> => {
  const styles = [await readFile(BENCH_STYLE, 'utf8'), await readFile(STYLE, 'utf8')].join('\n');
  const page = html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Every card on every channel</title><style>${raw(styles.replaceAll('</style', ''))}</style></head>
<body class="gallery"><h1>Every card on every channel</h1>
<p>${cards.length} kinds of card from the demonstration. Slack and Teams are shown by their structure; type and colour are the platform's own.</p>
${cards.map(rowOf)}
</body></html>
`;
  return page.markup;
};
