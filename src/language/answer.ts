// The answer to a question: yes, no, a figure, a place, the words of a choice, none of these.

import type { Act } from '../../shared/reading.ts';
import { answerPending } from './answer-pending.ts';
import { answerPlaces } from './answer-places.ts';
import { doneOrNot } from './asked-instead.ts';
import { namesPart } from './clause.ts';
import type { ReadContext, ReadResult } from './context.ts';
import { type Cue, findCues } from './cue-table.ts';
import type { Lexicon } from './lexicon.ts';
import { figuresSaid, withFigures } from './match/figures-said.ts';
import { placesSaid } from './match/places-said.ts';
import type { Message } from './message.ts';
import { whenSaid } from './when-said.ts';
import { personSaid } from './who-said.ts';

const QUOTED = /"([^"]{2,200})"|“([^”]{2,200})”/;

/** Reads a short message as the answer to the pending question, or to the question just before it. */
export function readAnswer(
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  read: (text: string) => ReadResult,
): ReadResult | undefined {
  const count = message.words.length;
  if (count > 9 || message.tokens.length === 0) return undefined;
  const pending = context.pending?.at(-1);
  if (pending) {
    const answer =
      answerPending(message, pending) ?? answerPlaces(message, pending, lexicon, context);
    if (answer) return answer;
  }
  const previous = context.previous?.at(-1);
  if (!previous || message.tokens.some((token) => token.word === '?')) return undefined;
  const bot = previous.from === 'bot';
  if (!bot && !previous.text.trim().endsWith('?')) return undefined;
  const quoted = bot ? QUOTED.exec(previous.text) : null;
  const words = quoted?.[1] ?? quoted?.[2];
  const title = message.tongue.steps.find(
    (step) => step.title.toLowerCase() === words?.toLowerCase(),
  );
  if (words !== undefined && !title) {
    if (ownParts(message) && count > 4) return undefined;
    const both = read(`${words} ${message.raw}`);
    const acts = both.acts.map(
      (act): Act => ({
        ...act,
        assumed: [...act.assumed, `words: "${words}", which was asked about`],
        span: [0, message.raw.length],
      }),
    );
    return acts.length > 0 ? { acts, relied: [previous.id], explained: both.explained } : undefined;
  }
  const asked: Partial<Act> | undefined = title
    ? { step: title.id, positions: [] }
    : askedAbout(previous.text, read);
  if (asked?.step === undefined) return undefined;
  return answerAbout({ ...asked, step: asked.step }, message, lexicon, context, previous);
}

/** The act a question asks about; of "was A done before B, or after" it is A. */
function askedAbout(text: string, read: (text: string) => ReadResult): Act | undefined {
  const first = /^(.{8,}?)\b(?:before|after|vor|nach|bevor|nachdem)\b.*\?\s*$/i.exec(text.trim());
  const acts = first?.[1] === undefined ? [] : read(`${first[1].trim()}?`).acts;
  return [...acts, ...read(text).acts].find((act) => act.step !== undefined);
}

const ownParts = (message: Message) => message.clauses.some((clause) => namesPart(clause));

function answerAbout(
  asked: Partial<Act> & { step: string },
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  previous: { readonly id: string; readonly text: string },
): ReadResult | undefined {
  const cues = findCues(message.tokens, 0, message.tokens.length, message.tongue.cues);
  const kind = kindOfAnswer(cues, message);
  if (kind === undefined) return undefined;
  const step = message.tongue.steps.find((one) => one.id === asked.step);
  if (!step) return undefined;
  const figures = message.figures.filter((figure) => figure.kind !== 'left');
  const places = placesSaid(step, figures, lexicon, context.positions);
  const positions = places.positions.length > 0 ? places.positions : (asked.positions ?? []);
  const time = figures.find((figure) => figure.kind === 'time');
  const when = time?.kind === 'time' ? whenSaid(time, context, false) : { assumed: [] };
  const clause = message.clauses[0];
  const by = clause ? personSaid(clause, message, context) : undefined;
  const parts = figuresSaid(step.step, figures, places.unused);
  const acts = parts.map((part): Act => {
    const act = withFigures(
      {
        kind,
        step: step.id,
        positions: [...positions],
        ...(asked.stage === undefined ? {} : { stage: asked.stage }),
        ...(when.time === undefined ? {} : { time: when.time }),
        ...(by === undefined ? {} : { by }),
        assumed: ['answer: to the question asked', ...when.assumed],
        span: [0, message.raw.length],
      },
      part,
    );
    // "Nine" as an answer to a pressure test may be "nein": a figure that the step does not ask for says nothing.
    const loose =
      act.kind === 'done' &&
      saysByFigure(cues, message) &&
      act.quantity === undefined &&
      act.count === undefined &&
      act.stage === undefined &&
      act.code === undefined &&
      act.time === undefined &&
      places.positions.length === 0;
    if (act.kind !== 'unsure' && !loose) return act;
    return { ...act, kind: 'unsure', candidates: doneOrNot(step.title, act, 'done') };
  });
  return {
    acts,
    relied: [previous.id],
    explained: [
      `"${message.raw.trim()}": ${kind}, "${step.title}", the answer to "${previous.text}".`,
    ],
  };
}

/** Whether nothing but a bare number makes a message the answer. */
const saysByFigure = (cues: readonly Cue[], message: Message): boolean =>
  message.words.length === 1 &&
  message.figures.length === 1 &&
  cues.every((cue) => cue.name !== 'yes' && cue.name !== 'finished');

/** What a short answer says; undefined where it is none. */
function kindOfAnswer(
  cues: readonly Cue[],
  message: Message,
): 'done' | 'not-done' | 'started' | 'unsure' | undefined {
  const has = (name: Cue['name']) => cues.some((cue) => cue.name === name);
  const at = (name: Cue['name']) => cues.some((cue) => cue.name === name && cue.from === 0);
  const own = message.clauses.some((clause) =>
    clause.pieces.some((piece) =>
      piece.verbs.some((verb) => verb.form === 'past' && verb.lemma !== 'do'),
    ),
  );
  if (message.words.length === 0)
    return message.tokens.some((token) => /^[👍👌🙏]/u.test(token.word))
      ? 'unsure'
      : message.tokens.some((token) => /^[✅✔☑]/u.test(token.word))
        ? 'done'
        : undefined;
  if (has('doubt')) return 'unsure';
  const begun =
    message.tokens.some((token) => token.entry?.forms.includes('ing') || token.word === 'doing') ||
    has('starting');
  const no = at('no-answer') || has('not') || has('not-yet') || has('left-to-do');
  if (no) return begun && !has('not') ? 'started' : 'not-done';
  if (/^(oh|hang|wait|ok|what|why|seen|thanks|cheers)$/.test(message.words[0] ?? '') && !at('yes'))
    return undefined;
  if (
    has('future') ||
    has('later') ||
    (has('condition') &&
      !/^(before|after)$/.test(message.words[0] ?? '') &&
      !at('yes') &&
      !at('finished'))
  )
    return undefined;
  if (begun) return 'started';
  if (at('yes')) return 'done';
  if (own) return undefined;
  const says =
    has('finished') ||
    /^(before|after|the|vorher|nachher|davor)$/.test(message.words[0] ?? '') ||
    message.figures.length > 0;
  return says && message.words.length <= 7 ? 'done' : undefined;
}
