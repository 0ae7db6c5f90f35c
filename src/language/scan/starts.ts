// Which scanners a token can begin a figure for. Most words begin none, and are passed over without asking any.
import type { Token } from '../tidy/token.ts';
import type { ScanWords } from './figure.ts';

/** Names of scanners, in the order in which they are asked. */
export const ORDER = [
  'trouble code',
  'tool',
  'time',
  'job number',
  'stage',
  'count of',
  'count left',
  'so many',
  'rest',
  'all',
  'quantity',
  'component code',
  'positions',
  'number',
] as const;

export type ScannerName = (typeof ORDER)[number];

const bits = (...names: readonly ScannerName[]): number =>
  names.reduce((sum, name) => sum | (1 << ORDER.indexOf(name)), 0);

/** Words of all languages that may begin a figure. */
const WORDS: readonly (readonly [name: ScannerName, words: string])[] = [
  ['trouble code', 'spn'],
  ['tool', 'wrench tool gauge spanner schlüssel drehmomentschlüssel messuhr'],
  [
    'time',
    'yesterday gestern vor half halben a an one einer einem before at during by since around um seit gegen halb quarter viertel',
  ],
  ['job number', 'job auftrag'],
  ['stage', 's'],
  ['count left', 'one'],
  ['so many', 'x'],
  ['rest', 'the rest others remainder übrigen anderen restlichen remaining'],
  [
    'all',
    'the both pair beide beiden all every each alle allen jede jeder jedes saemtliche sämtliche lot set',
  ],
  ['quantity', 'between from minus'],
  ['positions', 'first'],
  ['number', 'minus'],
];

const NUMBER = bits(
  'time',
  'job number',
  'stage',
  'count of',
  'count left',
  'so many',
  'quantity',
  'component code',
  'positions',
  'number',
);
const CODE = bits('trouble code', 'tool', 'time', 'job number', 'component code');
const MARK = bits('time', 'job number', 'quantity', 'positions', 'number');
const SIDE = bits('positions');
const LETTERS = bits('tool');
const CAPITAL = bits('tool', 'component code');

type StartWords = Pick<
  ScanWords,
  'ordinals' | 'stageNouns' | 'heardNumbers' | 'letters' | 'positionNouns'
>;

/** Scanners by the word a figure begins with, for one language and plan. */
function makeStarts(words: StartWords): ReadonlyMap<string, number> {
  const starts = new Map<string, number>();
  const add = (word: string, name: ScannerName) =>
    starts.set(word, (starts.get(word) ?? 0) | bits(name));
  for (const [name, list] of WORDS) for (const word of list.split(' ')) add(word, name);
  for (const word of Object.keys(words.ordinals)) add(word, 'stage');
  for (const word of words.stageNouns) {
    add(word, 'stage');
    add(`${word}s`, 'stage');
  }
  for (const word of Object.keys(words.heardNumbers)) add(word, 'quantity');
  for (const word of Object.keys(words.letters)) add(word, 'component code');
  for (const word of words.positionNouns) {
    add(word, 'positions');
    add(`${word}s`, 'positions');
  }
  return starts;
}

const made = new WeakMap<ReadonlySet<string>, ReadonlyMap<string, number>>();

/** The same, made once for each plan and language. */
export function startsOf(words: StartWords): ReadonlyMap<string, number> {
  const have = made.get(words.positionNouns);
  if (have) return have;
  const starts = makeStarts(words);
  made.set(words.positionNouns, starts);
  return starts;
}

/** The scanners that may find a figure at a token, as bits in the order of `ORDER`; 0 for none. */
export function scannersFor(token: Token, starts: ReadonlyMap<string, number>): number {
  if (token.kind === 'word') {
    const own = starts.get(token.word) ?? 0;
    const side = token.entry?.side === undefined ? 0 : SIDE;
    const letters = token.word === 'tw' ? LETTERS : token.capital === true ? CAPITAL : 0;
    return own | side | letters;
  }
  if (token.kind === 'number') return NUMBER;
  if (token.kind === 'code') return CODE;
  return token.kind === 'mark' ? MARK : 0;
}
