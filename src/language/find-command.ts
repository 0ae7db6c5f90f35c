// Finds a command or a question for a figure in a message.
import { COMMANDS } from './commands.ts';
import type { LanguagePack } from './pack.ts';
import { german } from './packs/de/index.ts';
import { english } from './packs/en/index.ts';

type Row = { readonly words: readonly string[]; readonly name: string };

const PACKS: readonly LanguagePack[] = [english, german];

const openedIn = (phrase: string, pack: LanguagePack) =>
  phrase.split(' ').flatMap((word) => (pack.contractions[word] ?? word).split(' '));

/** A phrase as each language opens its small words. */
const opened = (phrase: string): string[][] => {
  const all = PACKS.map((pack) => openedIn(phrase, pack));
  return all.filter((one, i) => all.findIndex((other) => other.join(' ') === one.join(' ')) === i);
};

const rows: readonly Row[] = COMMANDS.flatMap((command) =>
  PACKS.flatMap((pack) => pack.commands[command.name] ?? []).flatMap((phrase) =>
    opened(phrase).map((words) => ({ words, name: command.name })),
  ),
).sort((a, b) => b.words.length - a.words.length);

const byFirst = new Map<string, Row[]>();
for (const row of rows) {
  const first = row.words[0] ?? '';
  byFirst.set(first, [...(byFirst.get(first) ?? []), row]);
}
const limits = PACKS.flatMap((pack) => pack.limitPhrases).flatMap(opened);
const figures = PACKS.flatMap((pack) => pack.figurePhrases).flatMap(opened);

const FILLER =
  /^(please|mate|lads|boss|chargehand|bot|hey|hi|ok|so|and|now|then|pls|right|can|you|me|tell|show|the|give|a|today|us|cheers|thanks|ta|bitte|mal|just|i|we|do|is|this|on|for|job|guys|again|currently|all|yes|es|morning|sorry|oi|one|bus|with|here|du|uns|zeig|zeige|mir|wir|jetzt|denn|gerade|heute|bot)$/;

/** Courtesy, or the number of a job or vehicle. */
const fills = (word: string) => FILLER.test(word) || /^\d{3,8}$/.test(word);

const at = (words: readonly string[], i: number, phrase: readonly string[]) =>
  phrase.every((word, k) => word === '*' || words[i + k] === word);

/** The command a message is, if nothing but the command and courtesy stands in it. */
export function findCommand(words: readonly string[]): string | undefined {
  if (words.length > 24) return undefined;
  for (let i = 0; i < words.length; i += 1) {
    if (i > 0 && !FILLER.test(words[i - 1] ?? '')) return undefined;
    for (const row of byFirst.get(words[i] ?? '') ?? []) {
      if (!at(words, i, row.words)) continue;
      if (TAKES_MORE.has(row.name) || onlyCourtesy(words, i + row.words.length)) return row.name;
    }
  }
  return undefined;
}

function onlyCourtesy(words: readonly string[], from: number): boolean {
  for (let i = from; i < words.length; i += 1) if (!fills(words[i] ?? '')) return false;
  return true;
}

/** Commands that are followed by what they are about. */
const TAKES_MORE = new Set([
  'open-job',
  'release',
  'refuse',
  'override',
  'acknowledge',
  'approve',
  'decline',
  'assign',
  'move-message',
  'road-release',
  'cancel-job',
  'hours',
  'open-jobs',
]);

const has = (words: readonly string[], phrases: readonly (readonly string[])[]) =>
  phrases.some((phrase) =>
    words.some((_, i) => i + phrase.length <= words.length && at(words, i, phrase)),
  );

/** Whether a question asks for a figure of the plan. */
export const asksLimit = (words: readonly string[]): boolean => has(words, limits);
/** Whether a question asks for a calculation of the trade. */
export const asksFigure = (words: readonly string[]): boolean => has(words, figures);
