// Finds a command or a question for a figure in a message.
import { COMMANDS, FIGURE_PHRASES, LIMIT_PHRASES } from './commands.ts';
import { english } from './packs/en/index.ts';

type Row = { readonly words: readonly string[]; readonly name: string };

const opened = (phrase: string) =>
  phrase.split(' ').flatMap((word) => (english.contractions[word] ?? word).split(' '));

const rows: readonly Row[] = COMMANDS.flatMap((command) =>
  command.phrases.map((phrase) => ({ words: opened(phrase), name: command.name })),
).sort((a, b) => b.words.length - a.words.length);
const limits = LIMIT_PHRASES.map(opened);
const figures = FIGURE_PHRASES.map(opened);

const FILLER =
  /^(please|mate|lads|boss|chargehand|bot|hey|hi|ok|so|and|now|then|pls|right|can|you|me|tell|show|the|give|a|today|us|cheers|thanks|ta|bitte|mal|just|i|we|do|is|this|on|for|job|guys|again|currently|all|yes|es|morning|sorry|oi)$/;

const at = (words: readonly string[], i: number, phrase: readonly string[]) =>
  phrase.every((word, k) => word === '*' || words[i + k] === word);

/** The command a message is, if nothing but the command and courtesy stands in it. */
export function findCommand(words: readonly string[]): string | undefined {
  if (words.length > 24) return undefined;
  for (const row of rows) {
    for (let i = 0; i + row.words.length <= words.length; i += 1) {
      if (!at(words, i, row.words)) continue;
      const rest = [...words.slice(0, i), ...words.slice(i + row.words.length)];
      if (rest.every((word) => FILLER.test(word))) return row.name;
      if (TAKES_MORE.has(row.name) && words.slice(0, i).every((word) => FILLER.test(word)))
        return row.name;
    }
  }
  return undefined;
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
