// Slips in a message: what they were meant for is a guess, and a grave step is asked about instead where another
// guess would have turned the report, placed it elsewhere or named another work.
import type { Act } from '../../shared/reading.ts';
import type { Lexicon } from './lexicon.ts';
import type { Message } from './message.ts';
import { slipsBetween, slipsFor } from './near-words.ts';
import { holdsGlued, nearTo, type TellingWords, tellingWords } from './telling-words.ts';
import { SLIPS_TO_ASK, STRANGERS_TRIED } from './thresholds.ts';

type Word = Message['tokens'][number];

type Explained = {
  /** In a figure with a unit or a time. */
  readonly figures: ReadonlySet<Word>;
  /** In a sign. */
  readonly signs: ReadonlySet<Word>;
  /** In words of courtesy or asking that stand in the middle, where they mean nothing. */
  readonly adrift: ReadonlySet<Word>;
  /** Beside a place that is left out. */
  readonly leftOut: ReadonlySet<Word>;
};

/** What the tokens of a message were understood as. */
function explained(message: Message): Explained {
  const sets = {
    figures: new Set<Word>(),
    signs: new Set<Word>(),
    adrift: new Set<Word>(),
    leftOut: new Set<Word>(),
  };
  const put = (into: Set<Word>, tokens: readonly Word[], from: number, to: number) => {
    for (let k = from; k < to; k += 1) {
      const token = tokens[k];
      if (token) into.add(token);
    }
  };
  for (const figure of message.figures)
    if (figure.kind !== 'positions') put(sets.figures, message.tokens, figure.from, figure.to);
  for (const clause of message.clauses)
    for (const piece of clause.pieces) {
      for (const cue of piece.cues) {
        const adrift = /^(question-tag|yes|mistake)$/.test(cue.name) && cue.to < piece.to;
        put(adrift ? sets.adrift : sets.signs, piece.tokens, cue.from, cue.to);
      }
      if (piece.excepted.length > 0) put(sets.leftOut, piece.tokens, piece.from, piece.to);
    }
  return sets;
}

/** "Strpd", "prp": a word without its vowels is a short form and no slip. */
const isSkeleton = (raw: string, word: string): boolean => {
  if (/[aeiouäöü]/.test(raw.slice(1))) return false;
  let at = 0;
  for (const letter of word) if (letter === raw[at]) at += 1;
  return at === raw.length;
};

/** "Dianed" may be "dialled" and may be "drained": another word of the plan as near, or one where this is none. */
function isTorn(token: Word, raw: string, telling: TellingWords, message: Message): boolean {
  const { vocabulary, pack } = message.tongue;
  const entry = token.entry;
  if (pack.soundAlikes[raw] !== undefined || entry?.stop || isSkeleton(raw, token.word))
    return false;
  const own = telling.naming[token.word.length]?.includes(token.word) === true;
  const chosen = slipsBetween(raw, token.word, 2);
  const differs = (one: string) => {
    const other = vocabulary.look(one, false).parts[0]?.entry;
    if (one === token.word || other?.root === entry?.root) return false;
    if (entry?.side !== undefined) return other?.side !== undefined && !isSameSide(one, token.word);
    return entry?.lemma === undefined || other?.lemma !== entry.lemma;
  };
  const isSameSide = (a: string, b: string) =>
    pack.sides[a]?.join() === pack.sides[b]?.join() || a.startsWith(b) || b.startsWith(a);
  // "Gearo" may be "gear" and may be cut short of "gearbox".
  const longer = (one: string) => one.length > raw.length && one.startsWith(raw.slice(0, -1));
  const parts = message.tokens.filter((one) => one.from === token.from);
  const particle = parts.length > 1 && pack.particles[token.word] !== undefined;
  return (
    nearTo(raw, telling.naming, own ? Math.min(chosen, 2) : 2).some(differs) ||
    (particle && nearTo(token.word, telling.naming, 1).some(differs)) ||
    (raw.length >= 5 && telling.naming.some((list) => list.some((w) => longer(w) && differs(w)))) ||
    (!own && chosen > 0 && nearTo(raw, telling.turning, 1).some((one) => one !== token.word))
  );
}

/** A word that was mended and may have been another: too short, torn, or where it decides of places. */
function isGuess(at: number, message: Message, telling: TellingWords, leftOut: boolean): boolean {
  const token = message.tokens[at];
  const raw = token?.mended;
  if (!token || raw === undefined) return false;
  if (leftOut) return true;
  const others = message.tokens.some(
    (one) => one !== token && one.entry?.plan && one.entry.side === undefined && !one.mended,
  );
  if (raw.length <= 4 && token.entry?.plan && !others && !isSkeleton(raw, token.word)) return true;
  const next = message.tokens[at + 1];
  if (
    raw.length <= 5 &&
    next?.entry?.side !== undefined &&
    token.entry?.side === undefined &&
    !token.entry?.plan &&
    !token.entry?.forms.includes('past') &&
    token.from !== next.from
  )
    return true;
  return isTorn(token, raw, telling, message);
}

/** Small words one slip from "not" that stand before no particle of their own. */
const MAY_BE_NOT = /^(to|hot|nor|bot|jot)$/;

/** Words that leave something out together with the next one. */
const HALF_SAID = /^(apart|aside)$/;

/** Whether some word, as written, may have been meant for one that changes what the message reports. */
function mayTurn(message: Message, acts: readonly Act[]): boolean {
  const telling = tellingWords(message.tongue);
  const { common, pack } = message.tongue;
  const persons = new Set(acts.flatMap((act) => act.by?.toLowerCase().split(' ') ?? []));
  const { figures, signs, adrift, leftOut } = explained(message);
  const inside = (token: Word, act: Act) => act.span[0] <= token.from && token.from < act.span[1];
  // A report that names no part has it from the rest of the message.
  const namesPart = acts.map((act) =>
    message.tokens.some((one) => one.entry?.plan && !one.entry.side && inside(one, act)),
  );
  const inAct = (token: Word) => acts.some((act, k) => !namesPart[k] || inside(token, act));
  let tried = 0;
  for (const [at, token] of message.tokens.entries()) {
    const { entry, word, mended } = token;
    if (token.kind !== 'word' || !entry || figures.has(token)) continue;
    if (persons.has(mended ?? word) && (token.capital || word.length < 4)) continue;
    if (tried >= STRANGERS_TRIED) return true;
    if (mended !== undefined) {
      tried += 1;
      if (isGuess(at, message, telling, leftOut.has(token))) return true;
      continue;
    }
    // "Gbox to in": what stands between a part and where it is may have been "not".
    const next = message.tokens[at + 1];
    if (MAY_BE_NOT.test(word) && next && pack.particles[next.word]) return true;
    // "Torqued 1 2 3 no 4": number four, or four not.
    const counted = message.tokens[at - 1]?.kind === 'number' && next?.kind === 'number';
    if (word === 'no' && counted && message.tokens[at - 2]?.word !== 'no') return true;
    // "Apart frlmm the right": what is left out was to follow.
    if (HALF_SAID.test(word) && next?.word !== 'from' && !leftOut.has(token)) return true;
    if (signs.has(token) || (entry.stop && !adrift.has(token))) continue;
    const raw = message.raw.slice(token.from, token.to).toLowerCase();
    const short = raw.length <= 3 && raw !== word && message.tokens[at - 1]?.from !== token.from;
    const ordinary = common.has(word) || telling.ordinary.has(word);
    const strange = !entry.known && !ordinary;
    if (strange) {
      tried += 1;
      if (isNear(word, telling, inAct(token))) return true;
    } else if (adrift.has(token) && !entry.side) {
      tried += 1;
      if (word.length > 2 && nearTo(word, telling.naming, 1).length > 0) return true;
    } else if (short || (ordinary && !entry.plan && entry.forms.length === 0)) {
      tried += 1;
      const lists = short ? [telling.denying, telling.joining] : [telling.denying];
      if (lists.some((list) => nearTo(short ? raw : word, list, 1).length > 0)) return true;
    }
  }
  return false;
}

/** A stranger near a word that turns or places a report; beside the report itself, near any word of the plan. */
function isNear(word: string, telling: TellingWords, beside: boolean): boolean {
  const near = (lists: readonly (readonly string[])[], twice: number) =>
    nearTo(word, lists, 1).length > 0 ||
    (word.length >= twice && nearTo(word, lists, 2).some((one) => one[0] === word[0]));
  return (
    near(telling.turning, 6) ||
    near(telling.placing, 5) ||
    holdsGlued(word, telling, beside) ||
    (beside && nearTo(word, telling.naming, slipsFor(word)).length > 0)
  );
}

/** How many words of a message had to be mended; a word heard for another one and short forms are none. */
function slipsIn(message: Message): number {
  let slips = 0;
  let last = -1;
  const { soundAlikes } = message.tongue.pack;
  for (const token of message.tokens) {
    if (token.kind !== 'word' || token.from === last) continue;
    last = token.from;
    const strange = token.entry?.known === false && !token.entry.stop && !token.capital;
    const mended = token.mended !== undefined && soundAlikes[token.mended] === undefined;
    const ordinary = message.tongue.common.has(token.word);
    if (mended) slips += weightOf(token, message);
    else if (strange && !ordinary && token.word.length > 1) slips += 1;
  }
  return slips;
}

/** A long word with one slip in it is hardly another word; a short one may be. */
const LONG = 7;

const weightOf = (token: Message['tokens'][number], message: Message): number => {
  if (token.entry?.plan && namesOther(message, token)) return 3;
  return token.word.length >= LONG ? 1 : 2;
};

/** "Getriebe kommt jacj der Pause raus": beside a part that is spelled right a mended one is a guess. */
const namesOther = (message: Message, mended: Message['tokens'][number]): boolean => {
  const at = message.tokens.indexOf(mended);
  const others = message.tokens.flatMap((token, index) =>
    token.entry?.plan === true &&
    token.entry.side === undefined &&
    token.mended === undefined &&
    token.entry.root !== mended.entry?.root
      ? [index]
      : [],
  );
  // "Presure plate": the word beside it is of the same name.
  return others.length > 0 && !others.some((index) => Math.abs(index - at) === 1);
};

/** Asks before a safety-critical step is taken as done from a message with several slips. */
export function doubtSlips(
  acts: readonly Act[],
  message: Message,
  lexicon: Lexicon,
): readonly Act[] {
  const grave = (act: Act) =>
    act.kind === 'done' &&
    act.step !== undefined &&
    lexicon.plan.stepById.get(act.step)?.weight === 'safety-critical';
  if (!acts.some(grave)) return acts;
  if (slipsIn(message) < SLIPS_TO_ASK && !mayTurn(message, acts.filter(grave))) return acts;
  return acts.map((act): Act => {
    if (!grave(act) || act.step === undefined) return act;
    const { kind, ...rest } = act;
    const same = { step: act.step, positions: [...act.positions] };
    const title = lexicon.plan.stepById.get(act.step)?.title ?? act.step;
    return {
      ...rest,
      kind: 'unsure',
      candidates: [
        {
          says: `Done: ${title}`,
          kind,
          ...same,
          ...(act.quantity ? { quantity: act.quantity } : {}),
          ...(act.stage === undefined ? {} : { stage: act.stage }),
        },
        { says: 'Not done yet', kind: 'not-done', ...same },
      ],
    };
  });
}
