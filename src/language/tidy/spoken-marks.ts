// Marks that dictation writes as words.
import type { LanguagePack } from '../pack.ts';
import { type Token, tokenOf } from './token.ts';

const SPOKEN_MARKS: Readonly<Record<string, string>> = {
  'full stop': '.',
  'new line': '\n',
  'question mark': '?',
  'exclamation mark': '!',
  'neue zeile': '\n',
};

/** Words that such a mark begins with. */
const MARK_WORDS: ReadonlySet<string> = new Set(
  'full comma question new neue komma punkt exclamation'.split(' '),
);

/** Dictation writes marks as words: "full stop", "comma". Only where nothing else can be meant. */
export function spokenMarks(tokens: readonly Token[], pack: LanguagePack): readonly Token[] {
  if (!tokens.some((token) => token.kind === 'word' && MARK_WORDS.has(token.word))) return tokens;
  const isNumber = (token: Token | undefined) =>
    isFigure(token) ||
    (pack.wholeNumbers === true && pack.numbers[token?.word ?? ''] !== undefined);
  const out: Token[] = [];
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i] as Token;
    const pair = SPOKEN_MARKS[`${token.word} ${tokens[i + 1]?.word ?? ''}`];
    const alone =
      token.word === 'comma' || token.word === 'komma'
        ? ','
        : token.word === 'punkt' && tokens.length > 3
          ? '.'
          : undefined;
    const mark = pair ?? alone;
    if (
      mark === undefined ||
      (alone && !pair && isNumber(tokens[i - 1]) && isNumber(tokens[i + 1]))
    )
      out.push(token);
    else {
      const last = pair ? (tokens[i + 1] as Token) : token;
      out.push(tokenOf('mark', mark, token.from, last.to, false));
      if (pair) i += 1;
    }
  }
  return out;
}

const isFigure = (token: Token | undefined) =>
  token?.kind === 'number' ||
  /^(nought|zero|one|two|three|four|five|six|seven|eight|nine|null|eins|zwei|drei|vier|fünf|sechs|sieben|acht|neun)$/.test(
    token?.word ?? '',
  );
