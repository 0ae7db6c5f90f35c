// A card as Slack draws it. What people wrote stands only in plain_text and rich_text, where Slack reads no markup, so
// no text can mention anybody or pose as a link; the one mrkdwn line is ours and names people who are to be told.
import type { Button, KnownBlock, RichTextBlock } from '@slack/types';
import type { Level } from '../../../shared/plan.ts';
import type { Action, Block, Card } from '../../desk/card.ts';
import { LEVEL_WORD } from '../../desk/cards/flag-card.ts';
import { shorten, tidy } from '../plain-words.ts';
import {
  ACTIONS_ELEMENTS,
  BUTTON_LENGTH,
  CONFIRM_BUTTON,
  CONFIRM_TEXT,
  CONFIRM_TITLE,
  HEADER_LENGTH,
  MOST_BLOCKS,
  MOST_CHARACTERS,
  SECTION_LENGTH,
  TEXT_LENGTH,
  VALUE_LENGTH,
} from './limits.ts';
import { escapeWithin } from './markup.ts';

export type Drawn = { readonly text: string; readonly blocks: KnownBlock[] };

/** Levels are told apart by word and shape: a bar, a notch, a dot; Slack shows all three in one colour. */
export const LEVEL_SHAPE: Readonly<Record<Level, string>> = {
  stop: '▬▬',
  caution: '◤',
  advice: '•',
};

/** Room kept for the actions, so that a long text never costs a button. */
const ACTIONS_ROOM = 4_000;
const LAST_LINE_ROOM = 250;

const size = (block: KnownBlock): number => JSON.stringify(block).length + 1;
const clean = (text: string): string => tidy(text).trim() || '-';

const plain = (text: string) =>
  ({ type: 'plain_text', text: shorten(clean(text), SECTION_LENGTH), emoji: false }) as const;
const section = (text: string): KnownBlock => ({ type: 'section', text: plain(text) });
const remark = (text: string): KnownBlock => ({ type: 'context', elements: [plain(text)] });
const rich = (elements: RichTextBlock['elements']): KnownBlock => ({ type: 'rich_text', elements });
const words = (text: string, bold = false) =>
  bold
    ? ({ type: 'text', text, style: { bold: true } } as const)
    : ({ type: 'text', text } as const);

const header = (card: Card): readonly KnownBlock[] => {
  const word = card.level ? LEVEL_WORD[card.level] : undefined;
  if (!card.title && !word) return [];
  const named =
    word && !(card.title ?? '').toLowerCase().startsWith(word.toLowerCase())
      ? [word, card.title].filter(Boolean).join(': ')
      : (card.title ?? '');
  const text = card.level ? `${LEVEL_SHAPE[card.level]} ${named}` : named;
  return [
    {
      type: 'header',
      text: {
        type: 'plain_text',
        text: shorten(clean(text).replace(/\s+/gu, ' '), HEADER_LENGTH),
        emoji: false,
      },
    },
  ];
};

/** Draws as many of `all` as there is room for and says how many are left: "and 12 more". */
const asManyAsFit = <T>(
  all: readonly T[],
  draw: (some: readonly T[], more: string | undefined) => KnownBlock,
  room: number,
): KnownBlock | undefined => {
  const attempt = (count: number): KnownBlock => {
    const left = all.length - count;
    return draw(all.slice(0, count), left > 0 ? `and ${left} more` : undefined);
  };
  let fits = 0;
  let over = all.length + 1;
  while (over - fits > 1) {
    const count = Math.floor((fits + over) / 2);
    if (size(attempt(count)) <= room) fits = count;
    else over = count;
  }
  return fits > 0 ? attempt(fits) : undefined;
};

/** Text in pieces of at most 3,000 characters, cut between lines or words where it can be. */
const pieces = (text: string, most: number): readonly string[] => {
  const found: string[] = [];
  let rest = text;
  while (rest.length > most) {
    const head = rest.slice(0, most);
    const at = Math.max(head.lastIndexOf('\n'), head.lastIndexOf(' '));
    const cut = at > most / 2 ? at : /[\ud800-\udbff]$/u.test(head) ? most - 1 : most;
    found.push(rest.slice(0, cut));
    rest = rest.slice(cut).trimStart();
  }
  return [...found, rest];
};

/** One block within `room` characters of JSON; undefined when nothing of it fits. */
const draw = (block: Block, room: number): readonly KnownBlock[] | undefined => {
  switch (block.kind) {
    case 'text': {
      const whole = pieces(clean(block.text), SECTION_LENGTH).map(section);
      if (whole.reduce((sum, piece) => sum + size(piece), 0) <= room) return whole;
      for (let length = Math.min(room, SECTION_LENGTH); length > 80; length -= 100) {
        const cut = section(shorten(clean(block.text), length));
        if (size(cut) <= room) return [cut];
      }
      return undefined;
    }
    case 'facts': {
      const made = asManyAsFit(
        block.rows,
        (rows, more) =>
          rich([
            {
              type: 'rich_text_section',
              elements: [
                ...rows.flatMap(([label, value], index) => [
                  words(`${index > 0 ? '\n' : ''}${shorten(clean(label), 200)}: `, true),
                  words(shorten(clean(value), 1_500)),
                ]),
                ...(more ? [words(`\n${more}`)] : []),
              ],
            },
          ]),
        room,
      );
      return block.rows.length === 0 ? [] : made ? [made] : undefined;
    }
    case 'list': {
      const made = asManyAsFit(
        block.items,
        (items, more) =>
          rich([
            {
              type: 'rich_text_list',
              style: 'bullet',
              elements: [...items, ...(more ? [more] : [])].map((item) => ({
                type: 'rich_text_section' as const,
                elements: [words(shorten(clean(item), 600))],
              })),
            },
          ]),
        room,
      );
      return block.items.length === 0 ? [] : made ? [made] : undefined;
    }
    case 'caution': {
      const made = rich([
        { type: 'rich_text_quote', elements: [words(shorten(clean(block.text), 1_500))] },
      ]);
      return size(made) <= room ? [made] : undefined;
    }
  }
};

/** A grave tap without a form is asked about once; red is not used. */
const SURE: NonNullable<Button['confirm']> = {
  title: { type: 'plain_text', text: shorten('Are you sure', CONFIRM_TITLE) },
  text: {
    type: 'plain_text',
    text: shorten('This is kept in the record with your name.', CONFIRM_TEXT),
  },
  confirm: { type: 'plain_text', text: shorten('Yes, do it', CONFIRM_BUTTON) },
  deny: { type: 'plain_text', text: shorten('Leave it', CONFIRM_BUTTON) },
};

/** @param only whether it is the only main action: then it stands out, else a row of them would mean nothing */
const button = (action: Action, index: number, only: boolean): Button | undefined => {
  const value = JSON.stringify(action.intent);
  if (value.length > VALUE_LENGTH) return undefined;
  return {
    type: 'button',
    // What is tapped and its place: a message may not carry one action_id twice.
    action_id: `${action.form ? 'form' : 'tap'}.${index}`,
    text: {
      type: 'plain_text',
      text: shorten(clean(action.label).replace(/\s+/gu, ' '), BUTTON_LENGTH),
      emoji: false,
    },
    value,
    ...(action.weight === 'main' && only ? { style: 'primary' } : {}),
    ...(action.weight === 'grave' && !action.form ? { confirm: SURE } : {}),
  };
};

const actionBlocks = (actions: readonly Action[]): readonly KnownBlock[] => {
  const only = actions.filter((action) => action.weight === 'main').length === 1;
  const buttons = actions.flatMap((action, index) => button(action, index, only) ?? []);
  let used = 0;
  const shown = buttons.filter((each) => {
    used += JSON.stringify(each).length + 1;
    return used <= ACTIONS_ROOM;
  });
  const blocks: KnownBlock[] = [];
  for (let at = 0; at < shown.length; at += ACTIONS_ELEMENTS)
    blocks.push({ type: 'actions', elements: [...shown.slice(at, at + ACTIONS_ELEMENTS)] });
  const left = actions.length - shown.length;
  if (left > 0) blocks.push(remark(`and ${left} more: write in the thread what is to be done.`));
  return blocks;
};

/** "For <@U…> and <@U…>": only member ids, so this line can name nobody else. */
const toldLine = (ids: readonly string[]): readonly KnownBlock[] =>
  ids.length === 0
    ? []
    : [
        {
          type: 'section',
          text: { type: 'mrkdwn', text: `For ${ids.map((id) => `<@${id}>`).join(', ')}` },
        },
      ];

/**
 * Draws a card within every limit of `limits.ts`: what does not fit is shortened and says so.
 * @param idOf the member id of a person by name; people without one are named in words only
 */
export const drawCard = (card: Card, idOf: (name: string) => string | undefined): Drawn => {
  const told = [...new Set((card.tells ?? []).flatMap((name) => idOf(name) ?? []))].slice(0, 20);
  const end = [...toldLine(told), ...actionBlocks(card.actions ?? [])];
  const blocks: KnownBlock[] = [...header(card)];
  const total = (list: readonly KnownBlock[]) => list.reduce((sum, each) => sum + size(each), 2);
  const room = () => MOST_CHARACTERS - total(blocks) - total(end) - LAST_LINE_ROOM;
  const most = MOST_BLOCKS - end.length - 1;
  const body: readonly Block[] =
    card.blocks.length > 0 ? card.blocks : [{ kind: 'text', text: card.text }];
  let left = 0;
  // Pictures stand on the bench page; here what they show is said.
  const drawnWords: readonly Block[] = card.picture
    ? [...body, { kind: 'text', text: `Picture: ${card.picture.alt}` }]
    : body;
  for (const [index, block] of drawnWords.entries()) {
    const made = draw(block, room());
    if (!made || blocks.length + made.length > most) {
      left = drawnWords.length - index;
      break;
    }
    blocks.push(...made);
  }
  if (left > 0)
    blocks.push(
      remark(`and ${left} more ${left === 1 ? 'part' : 'parts'}: ask for the rest in the thread.`),
    );
  blocks.push(...end);
  const mentions = told.map((id) => ` <@${id}>`).join('');
  return {
    text: `${escapeWithin(clean(card.text), TEXT_LENGTH - mentions.length)}${mentions}`,
    blocks,
  };
};
