// Corrections and withdrawals of what was just said: "26 not 28", "meant cyl 5", "scrap that".

import type { Act } from '../../shared/reading.ts';
import type { ReadContext, ReadResult } from './context.ts';
import { findCues } from './cue-table.ts';
import type { ThreadFocus } from './focus.ts';
import type { Lexicon } from './lexicon.ts';
import { figuresSaid, withFigures } from './match/figures-said.ts';
import { placesSaid } from './match/places-said.ts';
import type { Message } from './message.ts';
import type { Figure } from './scan/figure.ts';
import { NAMES_PART } from './thresholds.ts';

/** Signs of which one stands in every correction that says no "not". */
const CORRECTING: ReadonlySet<string> = new Set(['retract', 'mistake', 'meant']);

/** A correction or withdrawal of the writer's last report, or undefined if the message is none. */
export function readCorrection(
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  focus: ThreadFocus,
): ReadResult | undefined {
  if (message.words.length > 30) return undefined;
  const cues = findCues(message.tokens, 0, message.tokens.length, message.tongue.cues);
  if (message.tokens.some((token) => token.word === '?')) return undefined;
  if (!cues.some((cue) => CORRECTING.has(cue.name)) && splitAtNot(message) === undefined)
    return undefined;
  const has = (name: string) => cues.some((cue) => cue.name === name);
  // The bus of "wrong bus" is no part that is spoken of.
  const taken = new Set(
    cues
      .filter((cue) => cue.name === 'retract')
      .flatMap((cue) => message.tokens.slice(cue.from, cue.to))
      .map((token) => token.entry?.root ?? token.word),
  );
  const ownParts = message.clauses.some((clause) =>
    clause.pieces.some((piece) =>
      [...piece.parts].some(([root, value]) => value >= NAMES_PART && !taken.has(root)),
    ),
  );
  const figured = message.figures.some((figure) =>
    /^(quantity|positions|number|stage)$/.test(figure.kind),
  );
  // "Scrap that, only stage 1": what is right is said at once.
  const only =
    has('retract') && figured && message.words.some((word) => /^(only|just|nur)$/.test(word));
  if (has('retract') && !ownParts && !(has('mistake') && figured) && !only)
    return withdrawn(message, focus);
  const not = splitAtNot(message);
  const shy = has('mistake') || has('meant') || only;
  if (
    !not &&
    !only &&
    !(
      has('mistake') ||
      cues.some(
        (cue) =>
          cue.name === 'meant' &&
          cue.from <= 1 &&
          /^(meant|mean|make|should|i)$/.test(message.tokens[cue.from]?.word ?? ''),
      )
    )
  )
    return undefined;
  if (ownParts && !has('mistake') && !has('meant')) return undefined;
  if (!not && !shy) return undefined;
  const right = not ? not.right : message.figures.filter((figure) => figure.kind !== 'time');
  if (right.length === 0) return undefined;
  if (!focus.last) {
    const strange = message.clauses.some((clause) =>
      clause.pieces.some((piece) => piece.unknown.length > 0),
    );
    return not && message.words.length <= 6 && !strange ? asked(message) : undefined;
  }
  const step = focus.last.step;
  const base = [...focus.acts].reverse().find((act) => act.step === step.id);
  const places = placesSaid(step, right, lexicon, context.positions);
  const said = figuresSaid(step.step, right, places.unused)[0] ?? { assumed: [] };
  // "Sorry 500": in the unit of what it corrects.
  const bare = right.find((figure) => figure.kind === 'number');
  const part =
    bare?.kind === 'number' && base?.quantity && !said.quantity && !said.count
      ? { ...said, quantity: { value: bare.value, unit: base.quantity.unit } }
      : said;
  const positions =
    places.missing || places.positions.length === 0 ? (base?.positions ?? []) : places.positions;
  const act: Act = withFigures(
    {
      kind: 'corrects',
      step: step.id,
      positions: [...positions],
      ...(not ? { was: not.was } : {}),
      ...(base?.stage !== undefined && part.stage === undefined ? { stage: base.stage } : {}),
      assumed: [`step: ${step.title}, the one reported before`],
      span: [0, message.raw.length],
    },
    part,
  );
  return {
    acts: [act],
    relied: [focus.from],
    explained: [`"${message.raw.trim()}": corrects "${focus.text}".`],
  };
}

const asked = (message: Message): ReadResult => ({
  acts: [{ kind: 'unsure', positions: [], assumed: [], span: [0, message.raw.length] }],
  relied: [],
  explained: [`"${message.raw.trim()}": a correction, but nothing was said before it.`],
});

function withdrawn(message: Message, focus: ThreadFocus): ReadResult | undefined {
  const acts = focus.acts.filter(
    (act) => act.step !== undefined && act.kind !== 'asks' && act.kind !== 'unsure',
  );
  if (acts.length === 0) return undefined;
  return {
    acts: acts.map(
      (act): Act => ({
        kind: 'retracts',
        ...(act.step === undefined ? {} : { step: act.step }),
        positions: act.positions,
        ...(act.stage === undefined ? {} : { stage: act.stage }),
        assumed: ['message: the last report'],
        span: [0, message.raw.length],
      }),
    ),
    relied: [focus.from],
    explained: [`"${message.raw.trim()}": withdraws "${focus.text}".`],
  };
}

/** "26 not 28", "not 28, 26", "cyl 5 not 4": what is right and what it was. */
function splitAtNot(message: Message): { right: Figure[]; was: string } | undefined {
  const at = message.tokens.findIndex((token) => token.word === 'not' || token.word === 'instead');
  if (at < 0) return undefined;
  const before = message.figures.filter((figure) => figure.to <= at);
  const behind = message.figures.filter((figure) => figure.from > at);
  const text = (figure: Figure) => message.raw.slice(figure.at[0], figure.at[1]);
  if (before.length > 0 && behind.length === 1 && behind[0] && behind[0].from - at <= 3)
    return { right: before, was: text(behind[0]) };
  const [first, ...rest] = behind;
  if (before.length === 0 && first && rest.length > 0 && first.from === at + 1)
    return { right: rest, was: text(first) };
  return undefined;
}
