// One line of a thread: what a person said, or what the bot posted.
import type { Block, Card, CardPicture } from '../../../desk/card.ts';
import type { Entry, Mark } from '../talk/entry.ts';
import { actsMarkup } from './act.ts';
import { html, type Markup } from './html.ts';
import { LEVEL_WORD } from './level.ts';
import { type Frame, timeMark, timeWords } from './time-words.ts';

const STAMP: Readonly<Record<Mark, string>> = {
  recorded: 'noted',
  asked: 'asked',
  unrecorded: 'struck out',
};

/** A line of the roll. The stamp's place is kept free, so that nothing moves when it is stamped. */
export function entryMarkup(entry: Entry, frame: Frame): Markup {
  return entry.card === undefined ? said(entry, frame) : posted(entry, entry.card, frame);
}

function said(entry: Entry, frame: Frame): Markup {
  const isOwn = frame.who !== undefined && entry.by === frame.who && entry.takenBack !== true;
  const mark =
    entry.mark === undefined
      ? ''
      : html`<span class="stamp ${entry.mark}">${STAMP[entry.mark]}</span>`;
  const amend = isOwn
    ? html`<button type="button" class="amend" data-amend="${entry.id}" data-text="${entry.text ?? ''}" aria-label="Amend or take back: ${(entry.text || 'photo').slice(0, 60)}">amend</button>`
    : '';
  const words =
    entry.takenBack === true
      ? html`<p class="gone">Taken back</p>`
      : html`${(entry.text ?? '') === '' ? '' : html`<p class="text" dir="auto">${entry.text}</p>`}${photos(entry, frame)}${smallPrint(entry, frame)}`;
  return html`<li class="line said" id="e-${entry.id}"><div class="at">${timeMark(entry.at, frame)}${amend}</div><div class="what"><span class="by">${entry.by}</span>${entry.chosenOn === undefined ? '' : html` <span class="small">chosen on ${entry.chosenOn}, not proved</span>`}${words}</div><span class="mark">${mark}</span></li>`;
}

function photos(entry: Entry, frame: Frame): Markup[] {
  return (entry.files ?? []).map(
    (file) =>
      html`<a class="photo" href="/photo/${file.from}"><img src="/photo/${file.from}" alt="Photo from ${entry.by}, ${timeWords(entry.at, frame)}" width="160" height="120" loading="lazy"></a>`,
  );
}

/** When it was typed, where that is not when it arrived, and when its words were changed. */
function smallPrint(entry: Entry, frame: Frame): Markup {
  const typed =
    entry.typed === undefined
      ? ''
      : html`<p class="small">typed ${timeWords(entry.typed, frame)}, arrived ${timeWords(entry.at, frame)}</p>`;
  const changed =
    entry.changedAt === undefined
      ? ''
      : html`<p class="small">words changed ${timeWords(entry.changedAt, frame)}</p>`;
  return html`${typed}${changed}`;
}

function posted(entry: Entry, card: Card, frame: Frame): Markup {
  const level = card.level;
  const whose = entry.only === undefined ? '' : html`<p class="small">Only you see this</p>`;
  const later =
    entry.of === undefined ? '' : html`<p class="small">posted ${timeWords(entry.at, frame)}</p>`;
  const tells =
    card.tells === undefined || card.tells.length === 0
      ? ''
      : html`<p class="small">For ${card.tells.join(', ')}</p>`;
  return html`<li class="line posted" id="e-${entry.id}"><span class="at">${timeMark(entry.of ?? entry.at, frame)}</span><article class="slip${level === undefined ? '' : ` flag ${level}`}">${level === undefined ? '' : html`<p class="level">${LEVEL_WORD[level]}</p>`}${cardBody(card, entry)}${tells}${whose}${later}${actsMarkup(card.actions, frame, entry.id)}</article></li>`;
}

/** The card's own content: its blocks, or its text where it has none. */
export function cardBody(card: Card, { id, thread }: Pick<Entry, 'id' | 'thread'>): Markup {
  const title =
    card.title === undefined
      ? ''
      : html`<h2 class="line-title">${withoutLevel(card.title, card)}</h2>`;
  const body =
    card.blocks.length === 0
      ? html`<p class="text" dir="auto">${card.text}</p>`
      : card.blocks.map(blockMarkup);
  const query = thread === null ? '' : `?thread=${thread}`;
  const picture = card.picture === undefined ? '' : pictureMarkup(card.picture, id, query);
  return html`${title}${body}${picture}${filesMarkup(card, id, query)}`;
}

function pictureMarkup({ alt, dark }: CardPicture, id: string, query: string): Markup {
  const image = html`<img class="picture" src="/picture/${id}.svg${query}" alt="${alt}">`;
  const shown =
    dark === undefined
      ? image
      : html`<picture><source media="(prefers-color-scheme: dark)" srcset="/picture/${id}.dark.svg${query}">${image}</picture>`;
  // Opened by itself it has the whole width of the screen.
  return html`<a class="whole" href="/picture/${id}.svg${query}">${shown}</a>`;
}

/** Files to be saved: what each is, its name and its size. */
function filesMarkup({ files = [] }: Card, id: string, query: string): Markup {
  if (files.length === 0) return html``;
  return html`<ul class="plain-list files">${files.map(
    ({ kept, name, says, bytes }) =>
      html`<li><a href="/file/${id}/${kept}${query}" download="${name}">${says}</a> <span class="small">${name}, ${Math.max(1, Math.round(bytes / 1024))} kB</span></li>`,
  )}</ul>`;
}

/** A title without the level's word at its head: the level stands above it already. */
function withoutLevel(title: string, { level }: Card): string {
  const word = level === undefined ? '' : LEVEL_WORD[level];
  const rest = title.slice(word.length).replace(/^[,:.]\s*/, '');
  const repeats = word !== '' && title.toLowerCase().startsWith(word.toLowerCase());
  return repeats && rest !== '' && rest.length < title.length - word.length
    ? rest.charAt(0).toUpperCase() + rest.slice(1)
    : title;
}

function blockMarkup(block: Block): Markup {
  switch (block.kind) {
    case 'text':
      return html`<p class="text" dir="auto">${block.text}</p>`;
    case 'facts':
      return html`<dl class="facts">${block.rows.map(([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`)}</dl>`;
    case 'list':
      return html`<ul class="plain-list">${block.items.map((item) => html`<li>${item}</li>`)}</ul>`;
    case 'caution':
      return html`<p class="care"><strong>Take care.</strong> ${block.text}</p>`;
    default:
      // A later version may post a kind of block that this page does not know; the card's text has it all.
      return html``;
  }
}
