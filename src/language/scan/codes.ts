// Codes: trouble codes, component codes as written or spelled by radio words, tools by their mark, job numbers.

import type { Token } from '../tidy/token.ts';
import { TROUBLE_CODE } from '../tidy/tokens.ts';
import type { Hit, ScanWords } from './figure.ts';

/** "P0420", "SPN 157 FMI 3", "157/3 spn". */
export function troubleCode(tokens: readonly Token[], i: number): Hit | undefined {
  const token = tokens[i];
  if (!token) return undefined;
  if (token.kind === 'code' && TROUBLE_CODE.test(token.word.toLowerCase())) {
    return { body: { kind: 'trouble-code', code: token.word.toUpperCase() }, next: i + 1 };
  }
  if (token.word !== 'spn') return undefined;
  const skip = (k: number) => (/^[:=#,/-]$/.test(tokens[k]?.word ?? '') ? k + 1 : k);
  const at = skip(i + 1);
  const spn = tokens[at];
  if (spn?.kind !== 'number') return undefined;
  let k = skip(at + 1);
  if (tokens[k]?.word === 'fmi') k = skip(k + 1);
  const fmi = tokens[k];
  if (fmi?.kind !== 'number' || k === at + 1) {
    return { body: { kind: 'trouble-code', code: `SPN ${spn.value}` }, next: at + 1 };
  }
  return { body: { kind: 'trouble-code', code: `SPN ${spn.value} FMI ${fmi.value}` }, next: k + 1 };
}

/** A component code: letters and digits mixed, or spelled out. */
export function componentCode(
  tokens: readonly Token[],
  i: number,
  words: ScanWords,
): Hit | undefined {
  const token = tokens[i];
  const short = namedCode(tokens, i, words);
  if (short) return short;
  if (token?.kind === 'code' && token.word.length >= 3) {
    let to = i + 1;
    let code = words.raw.slice(token.from, token.to);
    for (;;) {
      const [dash, more] = [tokens[to], tokens[to + 1]];
      if (
        dash?.word === '-' &&
        dash.glued &&
        more?.glued &&
        (more.kind === 'code' || more.kind === 'number' || more.capital)
      ) {
        code += `-${words.raw.slice(more.from, more.to)}`;
        to += 2;
      } else break;
    }
    return { body: { kind: 'code', code, spelled: false }, next: to };
  }
  return spelledCode(tokens, i, words);
}

/** "Trim code ABC", "code on 1 is A2": too short or without a digit, and still what was given as the code. */
function namedCode(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const token = tokens[i];
  if (!token || tokens[i + 1]?.glued) return undefined;
  const text = words.raw.slice(token.from, token.to);
  const short = token.kind === 'code' && token.word.length === 2;
  const letters =
    token.kind === 'word' && /^\p{Lu}{2,8}$/u.test(text) && words.raw !== words.raw.toUpperCase();
  if (!short && !letters) return undefined;
  const known = token.entry?.known || token.entry?.plan || (token.entry?.forms.length ?? 0) > 0;
  if (letters && (known || words.units[token.word] !== undefined)) return undefined;
  const said = tokens.slice(Math.max(0, i - 5), i).some((one) => /^codes?$/.test(one.word));
  return said ? { body: { kind: 'code', code: text, spelled: false }, next: i + 1 } : undefined;
}

function spelledCode(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  let code = '';
  let letterWords = 0;
  let k = i;
  for (; k < tokens.length && k - i < 24; k += 1) {
    const token = tokens[k] as Token;
    const letter = token.kind === 'word' ? words.letters[token.word] : undefined;
    if (letter !== undefined) {
      code += letter;
      letterWords += 1;
    } else if (
      token.kind === 'number' &&
      Number.isInteger(token.value) &&
      (token.value ?? -1) >= 0
    ) {
      code += String(token.value);
    } else if (token.kind === 'word' && token.word.length === 1 && token.word !== 'a' && k > i) {
      code += token.word.toUpperCase();
    } else break;
  }
  if (letterWords < 1 || k - i < 4) return undefined;
  return { body: { kind: 'code', code, spelled: true }, next: k };
}

/** "#2225", "job 2210", or a number that is an open job's. */
export function jobNumber(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const token = tokens[i];
  if (!token) return undefined;
  const marked = token.word === '#' || token.word === 'job' || token.word === 'auftrag';
  let at = marked ? i + 1 : i;
  if (marked && /^(no|number|#|nr)$/.test(tokens[at]?.word ?? '')) at += 1;
  const number = tokens[at];
  if (number?.kind !== 'number' && number?.kind !== 'code') return undefined;
  const text = words.raw.slice(number.from, number.to);
  if (words.jobs.has(text)) return { body: { kind: 'job', job: text }, next: at + 1 };
  // Four digits that open a message and were no time of day are a job number: "1042 coolant out".
  const opens =
    i === 0 &&
    tokens.length > 1 &&
    /^\d{4}$/.test(text) &&
    number.kind === 'number' &&
    (tokens[1]?.kind === 'word' || tokens[1]?.kind === 'number') &&
    words.units[tokens[1]?.word ?? ''] === undefined;
  if (opens && !marked) return { body: { kind: 'job', job: text }, next: at + 1 };
  if (!marked || number.kind !== 'number' || !/^\d{3,8}$/.test(text)) return undefined;
  return { body: { kind: 'job', job: text }, next: at + 1 };
}

/** "wrench TW3", "TW-03", "with TW 05", "tw5": the mark of a tool, letters and digits. */
export function tool(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const marked = markOfTool(tokens, i, words);
  if (marked) return marked;
  if (!TOOL_NOUN.test(tokens[i]?.word ?? '')) return undefined;
  let at = i + 1;
  if (/^(no|number|nr|#)$/.test(tokens[at]?.word ?? '')) at += 1;
  const mark = tokens[at];
  if (mark?.kind === 'word' && mark.capital === true && /^[a-z]{1,4}$/.test(mark.word)) {
    const number = tokens[at + 1];
    if (number?.kind !== 'number' || !number.glued) return undefined;
    return { body: { kind: 'tool', tool: words.raw.slice(mark.from, number.to) }, next: at + 2 };
  }
  if (mark?.kind !== 'code') return undefined;
  return { body: { kind: 'tool', tool: words.raw.slice(mark.from, mark.to) }, next: at + 1 };
}

const TOOL_NOUN = /^(wrench|tool|gauge|spanner|schlüssel|drehmomentschlüssel|messuhr)$/;

/** Letters and a number: joined by a dash, or apart behind "with" or a word for a tool. */
function markOfTool(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const letters = tokens[i];
  if (letters?.kind === 'code' && /^tw\d{1,4}$/i.test(letters.word))
    return { body: { kind: 'tool', tool: words.raw.slice(letters.from, letters.to) }, next: i + 1 };
  if (letters?.kind !== 'word' || !/^[a-z]{1,4}$/.test(letters.word)) return undefined;
  const entry = letters.entry;
  const strange =
    letters.word === 'tw' ||
    (letters.capital === true &&
      letters.word.length >= 2 &&
      (entry === undefined ||
        !(entry.plan || entry.known || entry.stop || entry.forms.length > 0)));
  if (!strange || words.units[letters.word] !== undefined || words.positionNouns.has(letters.word))
    return undefined;
  const dash = tokens[i + 1]?.word === '-' && tokens[i + 1]?.glued === true;
  const number = tokens[dash ? i + 2 : i + 1];
  if (number?.kind !== 'number' || !/^\d{1,4}$/.test(words.raw.slice(number.from, number.to)))
    return undefined;
  const before = tokens[i - 1]?.word ?? '';
  const led =
    letters.word === 'tw' || /^(with|using|used|mit)$/.test(before) || TOOL_NOUN.test(before);
  if (dash ? !number.glued : !led) return undefined;
  return {
    body: { kind: 'tool', tool: words.raw.slice(letters.from, number.to) },
    next: dash ? i + 3 : i + 2,
  };
}
