// What a report says of other steps: parts put in with it, stands still wanting, a figure that is another's.
import type { Act } from '../../../shared/reading.ts';
import { type Clause, wordsOf } from '../clause.ts';
import type { ReadContext } from '../context.ts';
import type { Lexicon } from '../lexicon.ts';
import type { Elsewhere } from '../match/figure-of-another.ts';
import { figuresSaid, withFigures } from '../match/figures-said.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { allowedPlaces, setOfStep } from '../match/places-said.ts';
import type { Message } from '../message.ts';
import { mergesInto } from './earlier-acts.ts';
import type { ReadSoFar } from './so-far.ts';
import type { Work } from './work.ts';

/** "All but 4": the places left out are not done. */
export function addLeftOut(work: Work, step: StepPhrases, excepted: readonly string[]): void {
  work.soFar.acts.push({
    kind: 'not-done',
    step: step.id,
    positions: [...excepted],
    assumed: [],
    span: work.span,
  });
  work.soFar.explained.push(
    `"${work.words}": not done, "${step.title}" at ${excepted.join(', ')} (left out by the words).`,
  );
}

/** A step that puts a part on and does not tighten it: hand tight is all that it asks. */
export const isFitting = (step: StepPhrases | undefined): boolean =>
  step?.phrases.some(
    (phrase) =>
      phrase.from === 'title' && phrase.classes.some((one) => one === 'fit' || one === 'renew'),
  ) === true && step.step?.report?.some((ask) => ask.kind === 'tightening') !== true;

/** "Belt on, 10 mm": the tension is reported beside the fitting. */
export function addFigureElsewhere(
  elsewhere: Elsewhere,
  positions: readonly string[],
  lexicon: Lexicon,
  context: ReadContext,
  span: [number, number],
  soFar: ReadSoFar,
): void {
  const { step, figure } = elsewhere;
  const set = setOfStep(step, lexicon);
  const allowed = set ? allowedPlaces(set, context.positions) : [];
  const places = positions.filter((name) => allowed.includes(name));
  const only = allowed.length === 1 ? allowed : places;
  if (set && only.length === 0) return;
  const [part] = figuresSaid(step.step, [figure], []);
  if (!part || part.doubt) return;
  // A torque must be one of the plan's own; nobody named this step.
  const tightens = step.step?.report?.some((ask) => ask.kind === 'tightening') === true;
  if (tightens && part.stage === undefined) return;
  const act = withFigures(
    { kind: 'done', step: step.id, positions: [...only], assumed: [], span },
    part,
  );
  if (mergesInto(soFar.acts, act)) return;
  soFar.acts.push(act);
  soFar.explained.push(`"${step.title}": done, by the figure said beside it.`);
}

/** "Only jacked", "only on the jack": the stands that come next are said to be wanting. */
export function addNotYetBeyond(
  step: StepPhrases,
  clause: Clause,
  message: Message,
  span: [number, number],
  soFar: ReadSoFar,
): void {
  const only = wordsOf(clause).some((word) => /^(only|just|nur|bloß)$/.test(word));
  const lifts = () =>
    step.phrases.some((phrase) => phrase.from === 'title' && phrase.classes.includes('lift'));
  if (!only || !lifts()) return;
  const next = message.tongue.steps.find(
    (one) => one.step?.after?.includes(step.id) && /\bstands?\b/i.test(one.title),
  );
  if (!next || soFar.acts.some((act) => act.step === next.id)) return;
  const last = soFar.acts.at(-1);
  if (last?.kind === 'unsure' && last.step === step.id) soFar.acts.pop();
  soFar.acts.push({ kind: 'not-done', step: next.id, positions: [], assumed: [], span });
  soFar.explained.push(`"${next.title}": not done, since it is only said to be lifted.`);
}

/** "Injectors in, with new washers": what went in with a part has its own step just before. */
export function addWithNew(
  step: StepPhrases,
  positions: readonly string[],
  clause: Clause,
  message: Message,
  lexicon: Lexicon,
  span: [number, number],
  soFar: ReadSoFar,
): void {
  if (!isFitting(step)) return;
  const tokens = clause.pieces.flatMap((piece) => piece.tokens.slice(piece.from, piece.to));
  const at = tokens.findIndex(
    (token, k) =>
      /^(with|mit)$/.test(token.word) &&
      tokens.slice(k + 1, k + 4).some((one) => /^(new|fresh|neuem|neuen|neuer)$/.test(one.word)),
  );
  if (at < 0) return;
  const roots = tokens
    .slice(at + 1, at + 6)
    .flatMap((token) => (token.entry?.plan ? [token.entry.root] : []));
  if (roots.length === 0) return;
  const names = (one: StepPhrases) =>
    one.phrases.some(
      (phrase) =>
        phrase.from !== 'words' &&
        phrase.classes.some((family) => /^(fit|renew)$/.test(family)) &&
        roots.every((root) => phrase.parts.get(root) === 1),
    );
  if (step.step?.renew?.length && names(step)) return;
  const before = message.tongue.steps.filter(
    (one) => one.id !== step.id && step.step?.after?.includes(one.id) && names(one),
  );
  const [other] = before;
  if (before.length !== 1 || !other || setOfStep(other, lexicon) !== setOfStep(step, lexicon))
    return;
  const act: Act = {
    kind: 'done',
    step: other.id,
    positions: [...positions],
    assumed: [],
    span,
  };
  if (mergesInto(soFar.acts, act)) return;
  soFar.acts.push(act);
  soFar.explained.push(`"${other.title}": done, named with "with new".`);
}
