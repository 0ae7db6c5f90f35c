// From cut tokens to words that mean something: short forms opened, slips mended, spoken numbers made figures.
import { MEND_AT_MOST } from '../thresholds.ts';
import { denyBefore } from './deny-before.ts';
import { spokenMarks } from './spoken-marks.ts';
import { spokenNumbers } from './spoken-numbers.ts';
import type { Token } from './token.ts';
import type { Vocabulary } from './vocabulary.ts';

/** Opens every word. One written word may become several tokens with the same place. */
export function openWords(cut: readonly Token[], vocabulary: Vocabulary): Token[] {
  const tokens = spokenMarks(cut, vocabulary.pack);
  const out: Token[] = [];
  let budget = MEND_AT_MOST;
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i] as Token;
    const short =
      token.kind === 'code' &&
      vocabulary.pack.abbreviations[token.word.toLowerCase()] !== undefined;
    if (token.kind !== 'word' && !short) {
      out.push(token);
      continue;
    }
    const split = shortBefore(token, tokens[i + 1], vocabulary);
    if (split) {
      for (const [k, word] of split.entries()) {
        const part = vocabulary.look(word, false).parts[0];
        if (part)
          out.push({ ...token, word: part.word, glued: k === 0 && token.glued, entry: part.entry });
      }
      continue;
    }
    const looked = vocabulary.look(short ? token.word.toLowerCase() : token.word, budget > 0);
    if (looked.mended || looked.parts[0]?.entry.known === false) budget -= 1;
    for (let k = 0; k < looked.parts.length; k += 1) {
      const part = looked.parts[k];
      if (!part) continue;
      out.push({
        kind: 'word',
        word: part.word,
        from: token.from,
        to: token.to,
        glued: k === 0 && token.glued,
        value: undefined,
        doubtful: false,
        capital: token.capital,
        entry: part.entry,
        mended: looked.mended ? token.word : undefined,
      });
    }
  }
  denyBefore(out, vocabulary);
  return joinPrefixes(spokenNumbers(out, vocabulary), vocabulary);
}

/** "o/feed", "int hose": a short form before a word of the plan stands for the word the plan has before it. */
function shortBefore(
  token: Token,
  next: Token | undefined,
  vocabulary: Vocabulary,
): string[] | undefined {
  const word = token.word;
  if (token.kind !== 'word' || word.length < 2) return undefined;
  // One letter and a stroke before the word: the stroke is left out of it.
  const struck = token.to - token.from === word.length + 1 && word.length > 3;
  if (!struck && (word.length > 5 || next?.kind !== 'word')) return undefined;
  if (vocabulary.isKnown(word) || vocabulary.pack.abbreviations[word] !== undefined)
    return undefined;
  if (struck) {
    const rest = word.slice(1);
    const first = vocabulary.before(word.slice(0, 1), rest);
    return first === undefined ? undefined : [first, rest];
  }
  const first = next && vocabulary.before(word, next.word);
  return first === undefined || vocabulary.pack.common.includes(word) ? undefined : [first];
}

/** "re-torque" and "un-done" are one word each. */
function joinPrefixes(tokens: Token[], vocabulary: Vocabulary): Token[] {
  for (let i = 0; i + 2 < tokens.length; i += 1) {
    const dash = tokens[i + 1];
    if (dash?.word !== '-' || !dash.glued) continue;
    const [a, b] = [tokens[i], tokens[i + 2]];
    if (!a || !b?.glued || b.kind !== 'word') continue;
    if (a.kind !== 'word' || !/^[\p{L}]+$/u.test(a.word)) continue;
    const word = a.word + b.word;
    if (a.word.length > 3 && !vocabulary.isKnown(word)) continue;
    const looked = vocabulary.look(word, false);
    const part = looked.parts[0];
    if (!part || looked.parts.length > 1) continue;
    if (!part.entry.known && a.word !== 're') continue;
    if (!part.entry.known) {
      tokens.splice(i, 2);
      continue;
    }
    tokens.splice(i, 3, { ...a, word: part.word, to: b.to, entry: part.entry });
  }
  return tokens;
}
