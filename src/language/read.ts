// A message to its acts. Pure and total: the same text, plan and context give the same reading, and nothing throws.

import { isElsewhere, speaksPlainly } from './about-something-else.ts';
import { readAnswer } from './answer.ts';
import { askAct } from './clause-acts/asked-acts.ts';
import {
  givesReason,
  goesOnFrom,
  type Held,
  hangsOnAs,
  isMeanwhile,
  sharesDenial,
  stuckInstead,
} from './clause-acts/hangs-on-before.ts';
import { readClause } from './clause-acts/read-clause.ts';
import { ellipsis, isInTurn } from './clause-acts/said-the-same.ts';
import { doubtedAtTheEnd, doubtLooks, settleContradictions } from './clause-acts/settle-acts.ts';
import type { ReadSoFar } from './clause-acts/so-far.ts';
import { withPlanWords } from './clause-acts/words-of-the-plan.ts';
import { readClock } from './clock-talk.ts';
import { commandOf } from './command-act.ts';
import type { ReadContext, ReadResult } from './context.ts';
import { readCorrection } from './correct.ts';
import { focusOf } from './focus.ts';
import type { Lexicon } from './lexicon.ts';
import { type Message, prepare } from './message.ts';
import { withPaintMarks } from './paint-marked.ts';
import { isWordForWord, readPlanLine, readPlanLines } from './plan-lines/read-lines.ts';
import { stepInPlanWords } from './plan-lines/step-in-words.ts';
import { releaseWithRemark } from './release-with-remark.ts';
import { readRelease, withoutOwnReport } from './released.ts';
import { RULES } from './rules/index.ts';
import { doubtSlips } from './slips/doubt-slips.ts';
import { stanceOf } from './stance.ts';
import { ACTS_AT_MOST } from './thresholds.ts';
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
  const ways = withWaysOfSaying(read, message, lexicon, options.off);
  const own = [
    ...(namesOwnVehicle(text, context.vehicle) ? ['another-vehicle'] : []),
    ...(hasNumberOf(text, context.vehicle) ? ['vehicle-by-number'] : []),
  ];
  const off = own.length > 0 ? new Set([...(options.off ?? []), ...own]) : options.off;
  const said = withoutUnsaid(ways, text, lexicon, off);
  const acts = isWordForWord(read) ? said.acts : doubtSlips(said.acts, message, lexicon);
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

/** "Coolant drained on 88" on the job of bus 88. */
function hasNumberOf(text: string, vehicle: string | undefined): boolean {
  const number = /\d+/.exec(vehicle ?? '')?.[0];
  return number !== undefined && [...text.matchAll(/\d+/g)].some((found) => found[0] === number);
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
    else if (
      clause.sentence === apart &&
      (clause.pieces[0]?.joint === '' || clause.pieces.every((piece) => piece.parts.size === 0))
    )
      continue;
    const under = stance.kind === 'done' && goesOnFrom(clause, message, held);
    held = { clause, kind: under ? held.kind : stance.kind };
    if (under) continue;
    if (
      stance.kind === 'done' &&
      (sharesDenial(clause, message) || hangsOnAs(clause) || isMeanwhile(clause))
    )
      continue;
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

const bare = ({ at: _a, previous: _p, pending: _q, ...rest }: ReadContext): ReadContext => rest;

const result = (soFar: ReadSoFar): ReadResult => ({
  acts: soFar.acts,
  relied: [...soFar.relied],
  explained: soFar.explained,
});
