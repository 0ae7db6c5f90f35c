// A message to its acts. Pure and total: the same text, plan and context give the same reading, and nothing throws.
import type { Act } from '../../shared/reading.ts';
import { readAnswer } from './answer.ts';
import { hasCue, verbsOf, wordsOf } from './clause.ts';
import { readClause } from './clause-acts/read-clause.ts';
import type { ReadSoFar } from './clause-acts/so-far.ts';
import { wantedOf } from './clause-acts/wanted.ts';
import { readClock } from './clock-talk.ts';
import { commandOf } from './command-act.ts';
import type { ReadContext, ReadResult } from './context.ts';
import { readCorrection } from './correct.ts';
import { doubtSlips } from './doubt-slips.ts';
import { asksFigure, asksLimit } from './find-command.ts';
import { focusOf } from './focus.ts';
import type { Lexicon } from './lexicon.ts';
import type { StepPhrases } from './match/phrases.ts';
import { rankSteps } from './match/score.ts';
import { type Message, prepare } from './message.ts';
import { withPaintMarks } from './paint-marked.ts';
import { readPlanLine, readPlanLines } from './plan-lines/read-lines.ts';
import { stepInPlanWords } from './plan-lines/step-in-words.ts';
import { releaseWithRemark } from './release-with-remark.ts';
import { readRelease, withoutOwnReport } from './released.ts';
import { RULES } from './rules/index.ts';
import { stanceOf } from './stance.ts';
import { ACTS_AT_MOST, STRANGE_FREE, STRANGE_SHARE } from './thresholds.ts';
import { withoutUnsaid } from './unsaid.ts';
import { withWaysOfSaying } from './ways-of-saying.ts';

export type ReadOptions = {
  /** Names of rules that are left out. */
  readonly off?: ReadonlySet<string>;
};

/**
 * Reads one message against a plan.
 *
 * @returns the acts, what the reading relied on, the answer to a pending question, and each act in plain words
 */
export function readMessage(
  text: string,
  lexicon: Lexicon,
  context: ReadContext,
  options: ReadOptions = {},
): ReadResult {
  const message = prepare(text, lexicon, context);
  const read = readWords(message, text, lexicon, context, options);
  const ways = withWaysOfSaying(read, text, lexicon, context, options.off);
  const off = namesOwnVehicle(text, context.vehicle)
    ? new Set([...(options.off ?? []), 'another-vehicle'])
    : options.off;
  const said = withoutUnsaid(ways, text, lexicon, off);
  const acts = doubtSlips(said.acts, message, lexicon);
  return acts === said.acts ? said : { ...said, acts };
}

/** "Bus 12 pressure tested" on the job of bus 12; "12" alone may be its name in the settings. */
function namesOwnVehicle(text: string, vehicle: string | undefined): boolean {
  if (vehicle === undefined) return false;
  const name = vehicle.toLowerCase().trim();
  const head = text.toLowerCase().trim().replace(/^the /, '');
  const number = /\d+/.exec(name)?.[0];
  const said = /^(?:bus|coach|truck|lorry|van|wagon) (?:no\.? ?)?(\d+)\b/.exec(head)?.[1];
  return (name !== '' && head.startsWith(name)) || (number !== undefined && said === number);
}

function readWords(
  message: Message,
  text: string,
  lexicon: Lexicon,
  context: ReadContext,
  options: ReadOptions,
): ReadResult {
  const soFar: ReadSoFar = {
    acts: [],
    explained: [],
    relied: new Set(),
    said: new Map(),
    focus: undefined,
  };
  const titled = readPlanLine(message, lexicon, context, true);
  if (titled) return titled;
  const answer = readAnswer(message, lexicon, context, (previous) =>
    readMessage(previous, lexicon, { ...bare(context) }, options),
  );
  if (answer) return answer;
  const planned =
    readPlanLine(message, lexicon, context, false) ?? readPlanLines(message, lexicon, context);
  if (planned) return planned;
  const command =
    releaseWithRemark(message, lexicon, context) ?? commandOf(message, lexicon, context);
  if (command)
    return result({
      ...soFar,
      acts: [command],
      explained: [`"${text.trim()}": the command ${command.command}.`],
    });
  const focus = focusOf(
    message,
    context,
    (previous) => readMessage(previous, lexicon, bare(context), options).acts,
  );
  const corrected = readCorrection(message, lexicon, context, focus);
  if (corrected) return corrected;
  soFar.focus = focus.last;
  const elsewhere = isElsewhere(message);
  if (elsewhere === 'wholly') return result(soFar);
  let apart = -1;
  let held: Held = { clause: undefined, kind: 'done' };
  for (const clause of message.clauses) {
    if (elsewhere && !speaksPlainly(clause, message)) continue;
    if (soFar.acts.length >= ACTS_AT_MOST) break;
    const clock = readClock(clause, message);
    if (clock) {
      soFar.acts.push(clock);
      soFar.explained.push(`"${message.raw.slice(clock.span[0], clock.span[1])}": working time.`);
      continue;
    }
    const released = readRelease(clause, message, lexicon, context, soFar.focus?.step);
    if (released) {
      soFar.acts.push(released);
      soFar.explained.push(
        `"${message.raw.slice(released.span[0], released.span[1])}": the release of a hold point.`,
      );
      continue;
    }
    const own = stepInPlanWords(clause, message, lexicon);
    const stance =
      (own ? { kind: 'done' as const, rule: 'words-of-the-plan', step: own } : undefined) ??
      ellipsis(clause, message, soFar.focus) ??
      withPlanWords(
        clause,
        stanceOf(clause, message.tongue, RULES, options.off),
        message,
        lexicon,
        options.off,
      );
    if (!stance) {
      if (isInTurn(clause, message))
        readClause(clause, { kind: 'intends', rule: 'in-turn' }, message, lexicon, context, soFar);
      continue;
    }
    // "The coach next door has had its stands out": what goes on without a mark is of the other vehicle too.
    if (stance.rule === 'somewhere-else') apart = clause.sentence;
    else if (clause.sentence === apart && clause.pieces[0]?.joint === '') continue;
    const under = stance.kind === 'done' && goesOnFrom(clause, message, held);
    held = { clause, kind: under ? held.kind : stance.kind };
    if (under) continue;
    if (stance.kind === 'done' && (sharesDenial(clause, message) || hangsOnAs(clause))) continue;
    if (/^(not-done|started|intends|unsure)$/.test(stance.kind) && givesReason(clause)) continue;
    if (stance.rule === 'moved' && stuckInstead(clause, message)) continue;
    if (stance.kind === 'asks') {
      askAct(clause, message, lexicon, context, soFar, stance);
      continue;
    }
    readClause(clause, stance, message, lexicon, context, soFar);
  }
  return result({
    ...soFar,
    acts: [
      ...withPaintMarks(
        withoutOwnReport(
          doubtLooks(
            settleContradictions(doubtedAtTheEnd(soFar.acts, message, lexicon), lexicon),
            message,
            lexicon,
          ),
        ),
        message,
        lexicon,
      ),
    ],
  });
}

/** "Leak check, then road test, then home": work named in its order, and nothing of it said to be done. */
function isInTurn(clause: Message['clauses'][number], message: Message): boolean {
  const then = /^(then|and then|dann|danach)$/;
  const ordered = message.clauses.some((one) => one.pieces.some((piece) => then.test(piece.joint)));
  return (
    ordered &&
    message.words.length <= 16 &&
    clause.pieces.some((piece) => [...piece.parts.values()].some((value) => value >= 0.9)) &&
    message.clauses.every(
      (one) =>
        !one.question &&
        !hasCue(one, 'finished') &&
        !hasCue(one, 'good') &&
        one.pieces.every(
          (piece) =>
            !piece.tick &&
            piece.moved.length === 0 &&
            piece.verbs.every((verb) => verb.form === 'base') &&
            piece.figures.every((figure) => !/^(quantity|number|count|code)$/.test(figure.kind)),
        ),
    )
  );
}

/** "And 5", "right too", "same on the other side": the same again, at another place. */
function ellipsis(
  clause: Message['clauses'][number],
  message: Message,
  focus: ReadSoFar['focus'],
): ReturnType<typeof stanceOf> {
  if (
    !focus ||
    clause.question ||
    message.words.length > 7 ||
    !/^(done|partial|started|intends|not-done|unsure)$/.test(focus.kind)
  )
    return undefined;
  const silent = clause.pieces.every(
    (piece) =>
      piece.moved.length === 0 &&
      piece.verbs.length === 0 &&
      ![...piece.parts.values()].some((value) => value >= 0.9) &&
      piece.unknown.length === 0,
  );
  const place =
    clause.pieces.some((piece) =>
      piece.figures.some((figure) => /^(positions|all|rest)$/.test(figure.kind)),
    ) ||
    hasCue(clause, 'other-side') ||
    hasCue(clause, 'the-lot');
  const denied = (
    [
      'not',
      'not-yet',
      'no',
      'left-to-do',
      'future',
      'later',
      'condition',
      'doubt',
      'next',
      'wish',
      'mistake',
      'still',
      'except',
      'defect',
      'cannot',
      'wait-for',
      'needs',
      'none',
    ] as const
  ).some((name) => hasCue(clause, name));
  const inFigure = (at: number) =>
    clause.pieces.some((piece) => piece.figures.some((one) => one.from <= at && at < one.to));
  const timed = clause.pieces.some((piece) =>
    piece.tokens.some(
      (token, at) =>
        at >= piece.from &&
        at < piece.to &&
        !inFigure(at) &&
        /^(am|pm|tmrw|tmw|tmro|tmoro|soon)$/.test(token.word),
    ),
  );
  if (silent && place && !denied && timed) return { kind: 'intends', rule: 'later' };
  return silent && place && !denied
    ? {
        kind: focus.kind === 'partial' || focus.kind === 'unsure' ? 'done' : focus.kind,
        rule: 'and-the-same',
      }
    : undefined;
}

/** "Not bolts and nuts checked", "once bolts and nuts are checked": what is denied of the one holds for the other. */
function sharesDenial(clause: Message['clauses'][number], message: Message): boolean {
  if (!/^(and|&|\+|or|und|oder)$/.test(clause.pieces[0]?.joint ?? '')) return false;
  const before = message.clauses[message.clauses.indexOf(clause) - 1];
  return (
    before !== undefined &&
    before.sentence === clause.sentence &&
    (hasCue(before, 'not') || hasCue(before, 'condition') || hasCue(before, 'wish')) &&
    before.pieces.every(
      (piece) => piece.verbs.length === 0 && piece.moved.length === 0 && piece.figures.length === 0,
    )
  );
}

type Held = {
  readonly clause: Message['clauses'][number] | undefined;
  readonly kind: string;
};

/** "Is the box out and down", "will be out and down": what is only joined on has no stance of its own. */
const goesOnFrom = (clause: Message['clauses'][number], message: Message, held: Held): boolean =>
  /^(and|&|\+|or|und|oder)$/.test(clause.pieces[0]?.joint ?? '') &&
  held.clause !== undefined &&
  held.clause.sentence === clause.sentence &&
  message.clauses.indexOf(clause) - message.clauses.indexOf(held.clause) === 1 &&
  /^(asks|intends|unsure|blocked|nothing)$/.test(held.kind) &&
  !hasCue(clause, 'finished') &&
  !clause.pieces.some(
    (piece) =>
      [...piece.parts.values()].some((value) => value >= 0.9) ||
      piece.tokens
        .slice(piece.from, piece.to)
        .some((token) => /^(i|we|it|they|she|he|ich|wir|es|sie|er)$/.test(token.word)),
  );

/** "Once the engine as been started": a verb alone behind "as" hangs on what was said before it. */
const hangsOnAs = (clause: Message['clauses'][number]): boolean => {
  const piece = clause.pieces[0];
  return (
    piece?.joint === 'as' &&
    clause.pieces.every((one) => one.parts.size === 0) &&
    (/^(been|is|are|was|were)$/.test(piece.tokens[piece.from]?.word ?? '') ||
      piece.tokens[piece.from]?.entry?.forms.includes('past') === true)
  );
};

/** "Not drained because the engine is still hot": the reason is no report of its own. */
const givesReason = (clause: Message['clauses'][number]): boolean =>
  /^(because|since|weil|da|denn|cos)$/.test(clause.pieces[0]?.joint ?? '');

/** "Nut 3 is tight and won't come off": tight is what is in the way, nobody has tightened it. */
const stuckInstead = (clause: Message['clauses'][number], message: Message): boolean =>
  clause.pieces.every((piece) => piece.moved.every((one) => one === 'tighten')) &&
  message.clauses.some(
    (other) =>
      other !== clause &&
      hasCue(other, 'cannot') &&
      other.pieces.every((piece) => piece.parts.size === 0),
  );

/** Kinds that the very words of the plan for a step override: they say that it is done. */
const GIVES_WAY: ReadonlySet<string> = new Set(['started', 'finding', 'partial', 'nothing']);

/** The words a controller wrote for a step report it, unless something denies, doubts or asks. */
function withPlanWords(
  clause: Message['clauses'][number],
  stance: ReturnType<typeof stanceOf>,
  message: Message,
  lexicon: Lexicon,
  off: ReadonlySet<string> | undefined,
): ReturnType<typeof stanceOf> {
  if (off?.has('words-of-the-plan')) return stance;
  if (
    stance &&
    !(GIVES_WAY.has(stance.kind) && /^(started|nearly)$/.test(stance.rule)) &&
    stance.rule !== 'figure-beside-part'
  )
    return stance;
  const ing = clause.pieces.some((piece) =>
    piece.verbs.some((verb) => verb.form === 'ing' && /^(go|come)$/.test(verb.lemma)),
  );
  if (ing || hasCue(clause, 'nearly') || hasCue(clause, 'still')) return stance;
  if (
    stance?.rule === 'started' &&
    verbsOf(clause).some((verb) => verb.lemma === 'start' && verb.form === 'past')
  ) {
    const best = rankSteps(wantedOf(clause), message.tongue, lexicon)[0];
    const starts =
      best?.step.phrases.some(
        (phrase) => phrase.from === 'title' && phrase.classes.includes('start'),
      ) ?? false;
    if (best && starts && best.part >= 0.5) return { kind: 'done', rule: 'words-of-the-plan' };
  }
  // "Pratze 3 war fest" tells how it was found.
  const found =
    message.tongue.pack.verbLast === true &&
    wordsOf(clause).some((word) => word === 'were' || word === 'gewesen') &&
    !verbsOf(clause).some((verb) => verb.form === 'past');
  if (found) return stance;
  const wanted = wantedOf(clause);
  const [first] = rankSteps(wanted, message.tongue, lexicon);
  const exact =
    first?.exact === true &&
    first.reports &&
    (stance?.rule !== 'started' || nothingBeside(clause, first.step));
  return exact ? { kind: 'done', rule: 'words-of-the-plan' } : stance;
}

/** "Engine running", "engine running sweet", and not "engine running out of fuel". */
const nothingBeside = (clause: Message['clauses'][number], step: StepPhrases): boolean => {
  const own = new Set(step.phrases.flatMap((phrase) => [...phrase.roots]));
  return clause.pieces.every((piece) =>
    piece.tokens.slice(piece.from, piece.to).every((token, k) => {
      const at = piece.from + k;
      return (
        token.kind !== 'word' ||
        own.has(token.entry?.root ?? token.word) ||
        /^(the|is|now|again|and|it|all|six|der|die|das|jetzt)$/.test(token.word) ||
        piece.figures.some((figure) => figure.from <= at && at < figure.to) ||
        piece.cues.some((cue) => cue.name === 'good' && cue.from <= at && at < cue.to)
      );
    }),
  );
};

/** "Wheel off front left, weighs more than my mother in law": a plain report beside a joke stays one. */
const speaksPlainly = (clause: Message['clauses'][number], message: Message): boolean =>
  clause.pieces.every(
    (piece) =>
      piece.unknown.length === 0 &&
      !piece.tokens.slice(piece.from, piece.to).some((token) => token.mended !== undefined),
  ) &&
  clause.pieces.some(
    (piece) =>
      [...piece.parts].some(([root, value]) => value >= 0.9 && !message.tongue.common.has(root)) ||
      (piece.parts.size > 0 &&
        piece.figures.some((figure) => figure.kind === 'positions' && !figure.bare)),
  );

/** Whether the words of a message are mostly about something else than the plan. */
function isElsewhere(message: Message): 'mostly' | 'wholly' | undefined {
  // "Drained, me, not the bus": the writer speaks of himself.
  if (/,\s*me\b(?!\s+(?:and|too|or|mate)\b)/i.test(message.raw)) return 'wholly';
  let strange = 0;
  const home = new Set<string>();
  for (const clause of message.clauses) {
    for (const piece of clause.pieces) {
      strange += piece.unknown.length;
      for (const [root, value] of piece.parts) if (value >= 0.9) home.add(root);
    }
  }
  return strange > STRANGE_FREE && strange > home.size * STRANGE_SHARE ? 'mostly' : undefined;
}

const bare = ({ at: _a, previous: _p, pending: _q, ...rest }: ReadContext): ReadContext => rest;

/** What the same message also calls not done is not done; what it calls done is not only begun. */
function settleContradictions(acts: readonly Act[], lexicon: Lexicon): Act[] {
  return acts.filter((act, index) => {
    // "Pipe nuts torqued? not a chance": who answers himself asks nobody.
    if (act.kind === 'asks' && act.command === undefined)
      return !acts
        .slice(index + 1)
        .some((one) => one.step === act.step && /^(done|partial|not-done|started)$/.test(one.kind));
    if (act.kind === 'started')
      return !acts
        .slice(0, index)
        .some(
          (one) =>
            one.kind === 'done' &&
            one.step === act.step &&
            act.positions.every((position) => one.positions.includes(position)),
        );
    // "Odd cylinders done, pulled the injectors on them": the plainer words answer the question.
    // "One clip is missing; five of six are fitted" counts what is wanting.
    if (act.kind === 'finding' && act.step !== undefined)
      return !acts.some(
        (one) =>
          one.kind === 'partial' &&
          one.count?.of !== undefined &&
          /\b(?:missing|left|seized|stuck|short)\b/.test(act.note ?? ''),
      );
    if (act.kind === 'unsure' && act.step === undefined && act.candidates)
      return !acts.some(
        (one) =>
          one !== act &&
          (one.kind === 'done' || (one.kind === 'not-done' && one.positions.length === 0)) &&
          one.span[0] !== act.span[0] &&
          act.candidates?.some((candidate) => candidate.step === one.step),
      );
    if (act.kind === 'unsure' && act.step !== undefined && !act.quantity)
      return !acts.some(
        (one) =>
          one.kind === 'done' &&
          one.step === act.step &&
          act.stage === undefined &&
          act.positions.every((position) => one.positions.includes(position)),
      );
    if (act.kind !== 'done' && act.kind !== 'partial') return true;
    if (act.step === undefined || lexicon.plan.stepById.get(act.step)?.weight === undefined)
      return true;
    return !acts.some(
      (one) =>
        one.kind === 'not-done' &&
        one.step === act.step &&
        one.stage === act.stage &&
        (one.positions.length === 0 ||
          one.positions.some((position) => act.positions.includes(position))) &&
        one.count === undefined,
    );
  });
}

/** "Gearbox out and down apparently": a doubt at the very end is about all that was said. */
function doubtedAtTheEnd(acts: readonly Act[], message: Message, lexicon: Lexicon): readonly Act[] {
  const last = message.clauses.at(-1);
  const end = last?.pieces.at(-1);
  const doubt = end?.cues.find((cue) => cue.name === 'doubt' && cue.to >= end.to - 1);
  if (!last || !end || !doubt || end.joint === ',') return acts;
  return acts.map((act) => {
    if (act.kind !== 'done' || act.step === undefined) return act;
    if (lexicon.plan.stepById.get(act.step)?.weight !== 'safety-critical') return act;
    const title = lexicon.plan.stepById.get(act.step)?.title ?? act.step;
    const { kind: _, ...rest } = act;
    const same = { step: act.step, positions: [...act.positions] };
    return {
      ...rest,
      kind: 'unsure' as const,
      candidates: [
        { says: `Done: ${title}`, kind: 'done' as const, ...same },
        { says: 'Not done yet', kind: 'not-done' as const, ...same },
      ],
    };
  });
}

/** "I looked over the pipes, but three plugs are still off": a look that found work undone is in doubt. */
function doubtLooks(acts: readonly Act[], message: Message, lexicon: Lexicon): Act[] {
  if (acts.length < 2) return [...acts];
  const but = message.tokens.some((token) => /^(but|only|though|aber|nur)$/.test(token.word));
  return acts.map((act, index) => {
    if (!but || act.kind !== 'done' || act.quantity || act.step === undefined) return act;
    const phrases = message.tongue.steps.find((step) => step.id === act.step)?.phrases ?? [];
    const looks = phrases.some(
      (phrase) => phrase.from === 'title' && phrase.classes.includes('check'),
    );
    const grave = lexicon.plan.stepById.get(act.step)?.weight === 'safety-critical';
    const undone = acts
      .slice(index + 1)
      .some((one) => one.step !== act.step && !/^(done|asks|command|clock)$/.test(one.kind));
    if (!looks || !grave || !undone) return act;
    const { kind: _, ...rest } = act;
    const title = lexicon.plan.stepById.get(act.step)?.title ?? act.step;
    const same = { step: act.step, positions: [...act.positions] };
    return {
      ...rest,
      kind: 'unsure',
      candidates: [
        { says: `Done: ${title}`, kind: 'done', ...same },
        { says: 'Not done yet', kind: 'not-done', ...same },
      ],
    };
  });
}

const result = (soFar: ReadSoFar): ReadResult => ({
  acts: soFar.acts,
  relied: [...soFar.relied],
  explained: soFar.explained,
});

/** "Who's got the dolly", "where is the jack": talk among colleagues, unless it asks who did a step. */
function aboutPeople(clause: Message['clauses'][number]): boolean {
  const piece = clause.pieces[0];
  const first = piece?.tokens[piece.from]?.word ?? '';
  if (!/^(who|whose|where|wer|wo|wessen)$/.test(first)) return false;
  return (
    !clause.pieces.some((one) =>
      one.verbs.some(
        (verb) => verb.form === 'past' && !/^(get|take|nick|hide|put|go|come)$/.test(verb.lemma),
      ),
    ) && !hasCue(clause, 'finished')
  );
}

function askAct(
  clause: Message['clauses'][number],
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  soFar: ReadSoFar,
  stance: NonNullable<ReturnType<typeof stanceOf>>,
): void {
  if (aboutPeople(clause)) return;
  const before = soFar.acts.length;
  const focus = soFar.focus;
  readClause(clause, stance, message, lexicon, context, soFar);
  const words = clause.pieces.flatMap((piece) =>
    piece.tokens.slice(piece.from, piece.to).map((token) => token.word),
  );
  const sized = clause.pieces.some((piece) =>
    piece.figures.some((figure) => figure.kind === 'quantity' || figure.kind === 'number'),
  );
  const verbs = clause.pieces.some((piece) => piece.verbs.some((verb) => verb.form === 'past'));
  const made = soFar.acts.length > before;
  // A figure asked about is none that was reached.
  for (let i = before; i < soFar.acts.length; i += 1) {
    const { quantity: _q, angle: _a, count: _c, stage, ...rest } = soFar.acts[i] as Act;
    const named = clause.pieces.some((piece) =>
      piece.figures.some((figure) => figure.kind === 'stage'),
    );
    soFar.acts[i] = { ...rest, ...(named && stage !== undefined ? { stage } : {}) };
  }
  const command = asksFigure(words)
    ? 'figure'
    : asksLimit(words) || (made && sized && !verbs)
      ? 'limit'
      : undefined;
  if (command === undefined) return;
  if (soFar.acts.length > before) {
    const last = soFar.acts.at(-1) as Act;
    soFar.acts[soFar.acts.length - 1] = { ...last, command };
  } else if (focus || soFar.acts.length === before) {
    const stage = message.figures.find((figure) => figure.kind === 'stage');
    if (stage?.kind === 'stage' || command === 'figure') {
      soFar.acts.push({
        kind: 'asks',
        command,
        positions: [],
        assumed: [],
        span: [0, message.raw.length],
        ...(stage?.kind === 'stage' && stage.stages[0] !== undefined
          ? { stage: stage.stages[0] }
          : {}),
      });
    }
  }
}
