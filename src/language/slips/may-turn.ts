// Whether some word of a message, as written, may have been meant for one that changes what it reports.

import type { Act } from '../../../shared/reading.ts';
import { partNamed } from '../clause.ts';
import type { Lexicon } from '../lexicon.ts';
import type { Message } from '../message.ts';
import { MAY_NAME_PART, STRANGERS_TRIED } from '../thresholds.ts';
import { explained, type Word } from './explained.ts';
import { isGuess } from './guessed.ts';
import { slipsFor } from './near-words.ts';
import { holdsGlued, nearTo, type TellingWords, tellingWords } from './telling-words.ts';

/** Words that leave something out together with the next one. */
const HALF_SAID = /^(apart|aside)$/;

/** Whether some word, as written, may have been meant for one that changes what the message reports. */
export function mayTurn(message: Message, acts: readonly Act[], lexicon: Lexicon): boolean {
  const telling = tellingWords(message.tongue);
  const { common, pack } = message.tongue;
  const persons = new Set(acts.flatMap((act) => act.by?.toLowerCase().split(' ') ?? []));
  const { figures, signs, adrift, leftOut, aside } = explained(message);
  const inside = (token: Word, act: Act) => act.span[0] <= token.from && token.from < act.span[1];
  // A report that names no part has it from the rest of the message.
  const pieces = message.clauses.flatMap((clause) => clause.pieces);
  const namesPart = acts.map((act) =>
    pieces.some(
      (piece) =>
        partNamed(piece, MAY_NAME_PART) &&
        piece.tokens.slice(piece.from, piece.to).some((one) => inside(one, act)),
    ),
  );
  const inAct = (token: Word) => acts.some((act, k) => !namesPart[k] || inside(token, act));
  // "Hassh cooled off": a name in small letters that the settings do not have.
  if (acts.some((act) => act.by !== undefined && /^\p{Ll}{4,}/u.test(act.by))) return true;
  let tried = 0;
  for (const [at, token] of message.tokens.entries()) {
    const { entry, word, mended } = token;
    if (token.kind !== 'word' || !entry) continue;
    if (figures.has(token) && (mended === undefined || !isGlued(at, message))) continue;
    if (persons.has(mended ?? word) && (token.capital || word.length < 4)) continue;
    const next = message.tokens[at + 1];
    // "Torqued 1 2 3 no 4": number four, or four not.
    const counted = message.tokens[at - 1]?.kind === 'number' && next?.kind === 'number';
    if (word === 'no' && counted && message.tokens[at - 2]?.word !== 'no') return true;
    if (namesPlace(mended ?? word, message, lexicon)) continue;
    if (tried >= STRANGERS_TRIED) return true;
    if (mended !== undefined) {
      tried += 1;
      if (figures.has(token) || isGuess(at, message, telling, leftOut.has(token))) return true;
      continue;
    }
    // "Gbox to in": what stands between a part and where it is may have been "not".
    const mayDeny = word === 'to' || pack.mayDeny?.includes(word) === true;
    if (mayDeny && next && pack.particles[next.word]) return true;
    // "Apart frlmm the right": what is left out was to follow.
    if (HALF_SAID.test(word) && next?.word !== 'from' && !leftOut.has(token)) return true;
    if (signs.has(token) || (entry.stop && !adrift.has(token))) continue;
    const raw = message.raw.slice(token.from, token.to).toLowerCase();
    const short = raw.length <= 3 && raw !== word && message.tokens[at - 1]?.from !== token.from;
    const ordinary = common.has(word) || telling.ordinary.has(word);
    const strange = !entry.known && !ordinary;
    if (strange) {
      tried += 1;
      if (isNear(word, telling, inAct(token) && !aside.has(token))) return true;
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

/** "5 celand": a unit that was cut out of a mended word. */
const isGlued = (at: number, message: Message): boolean => {
  const [before, token, next] = [at - 1, at, at + 1].map((k) => message.tokens[k]);
  return token?.from === before?.from || token?.from === next?.from;
};

/** "Pratze fest, cylinder 3": places are named as the plan names them, in whatever language the rest is. */
const namesPlace = (word: string, message: Message, lexicon: Lexicon): boolean =>
  message.tongue.scan.positionNouns.has(word) ||
  lexicon.tongues.some(
    (tongue) =>
      tongue !== message.tongue &&
      tongue.vocabulary.look(word, false).parts[0]?.entry.side !== undefined,
  );

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
