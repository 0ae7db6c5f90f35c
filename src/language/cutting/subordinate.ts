// "Once the rail is down I can open the pipes": which part of a sentence is only the condition or the time of the other.
import type { Cue } from '../cue-table.ts';
import type { Token } from '../tidy/token.ts';

/** What a clause says under: a condition, a time that is to come, or only when it was. */
export type Hanging = 'condition' | 'until' | 'time';

const CONDITION = /^(if|once|unless|provided|assuming|soon|as|when|whenever)$/;
const UNTIL = /^(until|till|til)$/;
const TIME = /^(before|after|while|whilst)$/;
const SUBJECT =
  /^(i|we|you|it|they|she|he|someone|somebody|nobody|the|all|my|that|this|these|those)$/;
const FINITE =
  /^(is|are|was|were|has|have|had|will|can|could|would|should|may|might|must|do|does|did|am|get|gets|come|comes|go|goes|went|came)$/;
const PRONOUN = /^(i|we|you|they|she|he)$/;
const MODAL =
  /^(will|can|could|would|should|shall|may|might|must|am|are|have|had|intend|want|plan|need)$/;
const PERFECT = /^(is|are|has|have|been|am|get|gets|got|be|being|not)$/;

export type SubSpan = { readonly from: number; readonly to: number; readonly kind: Hanging };

/** Whether a finite verb stands in the words behind a place, within reach of its subject. */
function clauseBehind(tokens: readonly Token[], i: number, to: number): boolean {
  const first = tokens[i];
  if (!first || i >= to) return false;
  if (PRONOUN.test(first.word)) return true;
  if (!SUBJECT.test(first.word) && first.entry?.plan !== true && first.kind !== 'number')
    return false;
  for (let k = i + 1; k < Math.min(to, i + 6); k += 1) {
    const token = tokens[k];
    if (token?.kind !== 'word') continue;
    if (FINITE.test(token.word)) return true;
    if (token.entry?.forms.some((form) => form === 'past' || form === 'third') && !token.entry.plan)
      return true;
  }
  return false;
}

/** Where the main clause begins behind a condition that opens the sentence. */
function mainBehind(tokens: readonly Token[], from: number, to: number): number {
  for (let k = from + 2; k < to; k += 1) {
    const word = tokens[k]?.word ?? '';
    if (word === ',') return k;
    if (word === 'then' && k + 1 < to) return k;
    const modal =
      MODAL.test(tokens[k + 1]?.word ?? '') || tokens[k + 1]?.entry?.forms.includes('base');
    if (PRONOUN.test(word) && k - from > 2 && modal === true) return k;
  }
  return to;
}

/** What happened already: "when I opened it", "once I had the rail off". */
export function toldAsPast(tokens: readonly Token[], from: number, to: number): boolean {
  for (let k = from; k < to; k += 1) {
    const token = tokens[k];
    if (token?.kind !== 'word') continue;
    if (/^(was|were|had|did|went|came)$/.test(token.word)) return true;
    if (
      token.entry?.forms.includes('past') === true &&
      !token.entry.forms.includes('base') &&
      !PERFECT.test(tokens[k - 1]?.word ?? '') &&
      PRONOUN.test(tokens[k - 1]?.word ?? '')
    )
      return true;
  }
  return false;
}

/** The parts of a stretch of tokens that hang on the rest of their sentence. */
export function subordinates(
  tokens: readonly Token[],
  from: number,
  to: number,
  cues: readonly Cue[],
): SubSpan[] {
  const spans: SubSpan[] = [];
  for (const cue of cues) {
    if (cue.name !== 'condition' || cue.from < from || cue.to > to) continue;
    if (spans.some((one) => one.from <= cue.from && cue.from < one.to)) continue;
    const word = tokens[cue.from]?.word ?? '';
    const kind: Hanging | undefined = CONDITION.test(word)
      ? 'condition'
      : UNTIL.test(word)
        ? 'until'
        : TIME.test(word)
          ? 'time'
          : undefined;
    if (kind === undefined) continue;
    if (/^(not sure|know|check|see|sure|wonder|ask|asked)$/.test(tokens[cue.from - 1]?.word ?? ''))
      continue;
    const ready = tokens[cue.to]?.word === 'ready';
    // "Battery off before Zed hurts himself": why, and when, it was done.
    const told =
      word === 'before' &&
      cue.from - from >= 2 &&
      to - cue.to >= 2 &&
      !tokens.slice(cue.to, to).some((token) => token.entry?.plan === true) &&
      tokens[cue.to]?.capital === true;
    if (!ready && !told && !clauseBehind(tokens, cue.to, to)) continue;
    if (kind === 'condition' && word === 'as' && cue.to - cue.from < 2) continue;
    const end = cue.from === from ? mainBehind(tokens, cue.to, to) : to;
    if (cue.from === from && end === to) continue;
    spans.push({ from: cue.from, to: end, kind });
  }
  return spans;
}
