// A card as Teams draws it: Adaptive Cards 1.5. What people wrote stands only in runs of rich text, where Teams reads no
// markup, so no text can mention anybody or pose as a link; the one line of markup is ours and names people to be told.
import { createHash } from 'node:crypto';
import type { Level } from '../../../shared/plan.ts';
import type { Action, Block, Card } from '../../desk/card.ts';
import { LEVEL_WORD } from '../../desk/cards/flag-card.ts';
import { bytesOf, oneLine, shorten, tidy } from '../plain-words.ts';
import { formElements } from './form-elements.ts';
import {
  LABEL_LENGTH,
  MOST_ACTIONS,
  MOST_BYTES,
  SUMMARY_LENGTH,
  TEXT_LENGTH,
  TITLE_LENGTH,
} from './limits.ts';

export type Element = Readonly<Record<string, unknown>>;

export type Drawn = {
  /** The line of a notification, and what devices without cards show. */
  readonly summary: string;
  readonly card: Element;
};

/** A file of a card; without an address it is only named. */
export type LinkedFile = { readonly name: string; readonly says: string; readonly url?: string };

export type Told = { readonly name: string; readonly id: string };

/** Levels are told apart by word and shape, never by a colour alone. */
const LEVEL_SHAPE: Readonly<Record<Level, string>> = { stop: '▬▬', caution: '◤', advice: '•' };

const run = (text: string, weight?: 'Bolder'): Element => ({
  type: 'TextRun',
  text,
  ...(weight ? { weight } : {}),
});

const rich = (inlines: readonly Element[], more: Element = {}): Element => ({
  type: 'RichTextBlock',
  inlines,
  ...more,
});

const words = (text: string, more: Element = {}): Element =>
  rich([run(shorten(tidy(text).trim() || '-', TEXT_LENGTH))], more);

/** The key once more in the card, so that a post can be looked up after an unclear failure. */
export const markerOf = (key: string): string =>
  `post-${createHash('sha256').update(key).digest('hex').slice(0, 32)}`;

const titleOf = (card: Card): readonly Element[] => {
  const word = card.level ? LEVEL_WORD[card.level] : undefined;
  if (!card.title && !word) return [];
  const title = card.title ?? '';
  const named =
    word && !title.toLowerCase().startsWith(word.toLowerCase())
      ? [word, title].filter(Boolean).join(': ')
      : title;
  const text = card.level ? `${LEVEL_SHAPE[card.level]} ${named}` : named;
  return [rich([{ ...run(shorten(oneLine(text), TITLE_LENGTH), 'Bolder'), size: 'Medium' }])];
};

/** As many of `all` as there is room for, and how many are left: "and 12 more". */
const asManyAsFit = <T>(
  all: readonly T[],
  draw: (some: readonly T[], more: string | undefined) => Element,
  room: number,
): Element | undefined => {
  for (let count = all.length; count > 0; count = count > 8 ? Math.floor(count * 0.8) : count - 1) {
    const left = all.length - count;
    const made = draw(all.slice(0, count), left > 0 ? `and ${left} more` : undefined);
    if (bytesOf(made) <= room) return made;
  }
  return undefined;
};

/** One block within `room` bytes; undefined where nothing of it fits. */
const blockOf = (block: Block, room: number): Element | undefined => {
  switch (block.kind) {
    case 'text': {
      for (let length = TEXT_LENGTH; length > 80; length = Math.floor(length * 0.7)) {
        const made = words(shorten(block.text, length));
        if (bytesOf(made) <= room) return made;
      }
      return undefined;
    }
    case 'facts':
      return asManyAsFit(
        block.rows,
        (rows, more) => ({
          type: 'Container',
          spacing: 'Small',
          items: [
            ...rows.map(([label, value]) =>
              rich(
                [
                  run(`${shorten(oneLine(label), TITLE_LENGTH)}: `, 'Bolder'),
                  run(shorten(tidy(value).trim() || '-', 1_500)),
                ],
                { spacing: 'Small' },
              ),
            ),
            ...(more ? [words(more, { spacing: 'Small' })] : []),
          ],
        }),
        room,
      );
    case 'list':
      return asManyAsFit(
        block.items,
        (items, more) => ({
          type: 'Container',
          spacing: 'Small',
          items: [...items, ...(more ? [more] : [])].map((item) =>
            words(`– ${shorten(item, 600)}`, { spacing: 'Small' }),
          ),
        }),
        room,
      );
    case 'caution': {
      const made: Element = {
        type: 'Container',
        style: 'emphasis',
        items: [words(shorten(block.text, 1_500))],
      };
      return bytesOf(made) <= room ? made : undefined;
    }
  }
};

const STYLE = { main: 'positive', plain: 'default', grave: 'destructive' } as const;

/** Intents whose form is not in the card: it is asked for when the button is tapped, in a window of its own. */
const opensWindow = ({ intent, form }: Action): boolean =>
  form === undefined && intent.do === 'open-job';

const execute = (title: string, intent: string, verb: string, more: Element = {}): Element => ({
  type: 'Action.Execute',
  title,
  verb,
  data: { intent, ...more },
});

const actionOf = (action: Action, only: boolean): Element | undefined => {
  const intent = JSON.stringify(action.intent);
  if (intent.length > 2_000) return undefined;
  const title = shorten(oneLine(action.label), LABEL_LENGTH);
  // Positive marks one way out of several; with more than one it would mean nothing.
  const style = action.weight === 'main' && !only ? 'default' : STYLE[action.weight];
  if (opensWindow(action))
    return { type: 'Action.Submit', title, data: { intent, msteams: { type: 'task/fetch' } } };
  if (!action.form) return { ...execute(title, intent, 'tap'), style };
  const { body, several } = formElements(action.form);
  return {
    type: 'Action.ShowCard',
    title,
    style,
    card: {
      type: 'AdaptiveCard',
      body: [words(action.form.title), ...body],
      actions: [
        execute(
          shorten(oneLine(action.form.submit), LABEL_LENGTH),
          intent,
          'form',
          several.length > 0 ? { several: several.join(',') } : {},
        ),
      ],
    },
  };
};

const actionsOf = (actions: readonly Action[]): { made: Element[]; left: number } => {
  const only = actions.filter((action) => action.weight === 'main').length === 1;
  const made: Element[] = [];
  for (const action of actions) {
    const drawn = actionOf(action, only);
    if (!drawn || made.length === MOST_ACTIONS) continue;
    if (bytesOf([...made, drawn]) > MOST_BYTES * 0.6) continue;
    made.push(drawn);
  }
  return { made, left: actions.length - made.length };
};

const remark = (text: string): Element => rich([{ ...run(text), isSubtle: true }]);

/** "For <at>Nell</at>": the tag stands for an id of the directory, so this line can name nobody else. */
const toldLine = (told: readonly Told[]): Element => ({
  type: 'TextBlock',
  wrap: true,
  text: `For ${told.map(({ name }) => `<at>${atName(name)}</at>`).join(', ')}`,
});

const atName = (name: string): string => name.replace(/[<>&*_[\]()~`#]/gu, ' ').trim();

/**
 * Draws a card within the limits of `limits.ts`: what does not fit is shortened and says so.
 * @param told the people to be told, with their ids of the directory
 * @param key travels with the card so that it can be found again
 * @param image where the card's picture is to be fetched from, where there is one
 * @param files the card's files with the addresses they are fetched from
 */
export const drawCard = (
  card: Card,
  told: readonly Told[],
  key: string | undefined,
  image?: string,
  files: readonly LinkedFile[] = [],
): Drawn => {
  const { made, left: leftActions } = actionsOf(card.actions ?? []);
  const actions = [
    ...files.flatMap(({ name, url }) =>
      url ? [{ type: 'Action.OpenUrl', title: shorten(oneLine(name), LABEL_LENGTH), url }] : [],
    ),
    ...made,
  ];
  const end: Element[] = [
    ...(image && card.picture
      ? [{ type: 'Image', url: image, altText: shorten(card.picture.alt, 500) }]
      : []),
    ...(told.length > 0 ? [toldLine(told)] : []),
    ...(leftActions > 0
      ? [remark(`and ${leftActions} more: write in the thread what is to be done.`)]
      : []),
  ];
  const summary = shorten(oneLine(card.text), SUMMARY_LENGTH);
  const body: Element[] = [...titleOf(card)];
  const room = (): number =>
    MOST_BYTES - bytesOf(body) - bytesOf(end) - bytesOf(actions) - bytesOf(summary) - 1_000;
  const blocks: readonly Block[] = [
    ...(card.blocks.length > 0 ? card.blocks : [{ kind: 'text', text: card.text } as const]),
    ...(files.length > 0
      ? [
          {
            kind: 'list',
            items: files.map(({ name, says, url }) =>
              url ? says : `${says}: ${name}, to be had from the bench page`,
            ),
          } as const,
        ]
      : []),
    // Where the picture cannot be shown, what it shows is said.
    ...(card.picture && !image
      ? [{ kind: 'text', text: `Picture: ${card.picture.alt}` } as const]
      : []),
  ];
  for (const [index, block] of blocks.entries()) {
    if (
      (block.kind === 'facts' && block.rows.length === 0) ||
      (block.kind === 'list' && block.items.length === 0)
    )
      continue;
    const made = blockOf(block, room());
    if (!made) {
      const left = blocks.length - index;
      body.push(
        remark(
          `and ${left} more ${left === 1 ? 'part' : 'parts'}: ask for the rest in the thread.`,
        ),
      );
      break;
    }
    body.push(made);
  }
  const [first, ...rest] = [...body, ...end];
  return {
    summary,
    card: {
      type: 'AdaptiveCard',
      $schema: 'http://adaptivecards.io/schemas/adaptive-card.json',
      version: '1.5',
      fallbackText: summary,
      speak: summary,
      body: first ? [key ? { ...first, id: markerOf(key) } : first, ...rest] : [],
      ...(actions.length > 0 ? { actions } : {}),
      msteams: {
        width: 'Full',
        ...(told.length > 0
          ? {
              entities: told.map(({ name, id }) => ({
                type: 'mention',
                text: `<at>${atName(name)}</at>`,
                mentioned: { id, name: atName(name) },
              })),
            }
          : {}),
      },
    },
  };
};
