// "Nell's late jobs", "anything on bus 417", "injector jobs", "what's waiting for parts": open jobs by what is said of them.
import { PHASES, type Phase } from '../../../shared/plan.ts';
import type { WaitKind } from '../waits.ts';
import {
  type AskedKnown,
  isWork,
  type JobState,
  type JobsAsked,
  VEHICLE,
  vehicleSaid,
} from './asked.ts';

type Found = { rest: string } & { -readonly [K in keyof Omit<JobsAsked, 'ask'>]: JobsAsked[K] };

const WAITS_FOR: readonly (readonly [WaitKind, RegExp])[] = [
  ['parts', /\b(?:for|on) (?:the )?(?:parts?|stores?|delivery)\b/u],
  ['approval', /\b(?:for|on) (?:an? |the )?(?:approval|approvals|go-ahead)\b/u],
  ['release', /\b(?:for|on) (?:an? |the )?(?:releases?|hold points?)\b/u],
  ['decision', /\b(?:for|on) (?:an? |the )?decisions?\b/u],
  ['answer', /\b(?:for|on) (?:an? )?answers?\b/u],
  ['bay', /\b(?:for|on) (?:an? |another |the )?(?:bay|pit|ramp|lift)\b/u],
  ['tool', /\b(?:for|on) (?:an? |the )?tools?\b/u],
];

const STATES: readonly (readonly [JobState, RegExp])[] = [
  ['waiting', /\b(?:waiting|waits?|who waits|on hold|held up)\b/u],
  ['blocked', /\b(?:blocked|stuck|stopped work|standing still)\b/u],
  ['late', /\b(?:running late|late|overdue|behind(?: time)?|past (?:its |their )?promise)\b/u],
  ['stopped', /\b(?:with (?:a |open )?stops?(?: open)?|stops? open|under stop)\b/u],
  ['flagged', /\b(?:flagged|with (?:open )?flags?(?: open)?|flags? open)\b/u],
  ['to-close', /\b(?:ready to close|can be closed|to be closed|to close|all done|finished)\b/u],
  ['nobody', /\b(?:with nobody|nobody's|with no one|unassigned|without a technician)\b/u],
];

const HEAD = /\b(?:jobs?|aufträge|auftrag)\b/u;
const LOOSE_HEAD =
  /\b(?:anything|anybody|what|what's|whats|which|who|who's|summary|overview|everything|was|übersicht)\b/u;
const FILLER =
  /^(?:open|jobs?|that|all|the|a|an|any|anything|anybody|everybody|what|what's|whats|which|who|who's|is|are|was|has|have|had|do|does|we|got|us|me|give|show|list|tell|there|of|for|on|with|by|in|at|to|and|still|our|now|currently|today|summary|overview|everything|doing|working|up|stand|how|many|phase|it|aufträge|auftrag|offene|alle|sind|übersicht|going|look|how's|hows|getting|please)$/u;

const strip = (found: Found, pattern: RegExp): RegExpExecArray | null => {
  const match = pattern.exec(found.rest);
  if (match) found.rest = found.rest.replace(match[0], ' ');
  return match;
};

const takePerson = (found: Found, known: AskedKnown): void => {
  if (strip(found, /\b(?:my|mine|i have|have i got|i've got|am i on)\b/u)) {
    found.person = known.asker;
    return;
  }
  for (const [word] of found.rest.matchAll(/[\p{L}-]+(?:'s|s'|s)?/gu)) {
    const name =
      known.person(word) ?? known.person(word.replace(/(?:'s|s'|s)$/u, '').replace(/'$/u, ''));
    if (name === undefined) continue;
    found.person = name;
    found.rest = found.rest.replace(word, ' ');
    return;
  }
};

const takeVehicle = (found: Found): void => {
  const named =
    strip(found, new RegExp(`\\b(?:on|for|about|with)\\s+(${VEHICLE})\\s*$`, 'u')) ??
    strip(
      found,
      /\b((?:bus|coach|truck|lorry|van|trailer|tractor|minibus|midibus)\s+[\p{L}-]*\d[\p{L}\d-]*)(?:'s)?\b/u,
    );
  if (named?.[1]) found.vehicle = vehicleSaid(named[1].replace(/'s$/u, ''));
};

const takeStates = (found: Found): void => {
  const states: JobState[] = [];
  for (const [state, pattern] of STATES)
    if (strip(found, pattern)) {
      states.push(state);
      if (state === 'waiting')
        for (const [kind, words] of WAITS_FOR) {
          if (!strip(found, words)) continue;
          found.waitsFor = kind;
          break;
        }
    }
  found.states = states;
  for (const phase of PHASES)
    if (strip(found, new RegExp(`\\b(?:(?:in|at)\\s+(?:the\\s+)?)?${phase}\\b`, 'u')))
      found.phase = phase satisfies Phase;
};

/** Short for all open jobs, or for those in one state; in a job's thread they are asked of the job. */
const WHOLE =
  /^(?:what have we got on|(?:what's the |whats the )?state of play|who(?:'s| is) on what|how are things|how are we doing|where are we all|what's in|whats in|the board)$/u;
const ALONE: Readonly<Partial<Record<string, JobState>>> = {
  late: 'late',
  overdue: 'late',
  blocked: 'blocked',
  waiting: 'waiting',
};

/** Open jobs asked for; undefined where the words ask for something else. */
export const jobsAsked = (plain: string, known: AskedKnown): JobsAsked | undefined => {
  if (!known.inJob && WHOLE.test(plain)) return { ask: 'jobs', states: [] };
  const alone = known.inJob ? undefined : ALONE[plain];
  if (alone) return { ask: 'jobs', states: [alone] };
  const hasHead = HEAD.test(plain);
  if (!hasHead && !LOOSE_HEAD.test(plain)) return undefined;
  const found: Found = { rest: plain, states: [] };
  takeVehicle(found);
  takeStates(found);
  takePerson(found, known);
  const left = found.rest.split(/[^\p{L}\d'-]+/u).filter((word) => word !== '' && word !== "'s");
  const work = left.filter((word) => !FILLER.test(word));
  if (work.length > 0) {
    const words = work.join(' ');
    // Work is named only beside "jobs": "what about the pump" is a question about the pump.
    if (!hasHead || !known.plans.some((plan) => isWork(plan, words))) return undefined;
    found.work = words;
  }
  const { rest: _, ...asked } = found;
  const filtered = Object.keys(asked).length > 1 || found.states.length > 0;
  const whole =
    /\b(?:summary|overview|übersicht)\b/u.test(plain) || /\b(?:open|all)\b/u.test(plain);
  if (!filtered && !(hasHead ? true : whole)) return undefined;
  if (known.inJob && !hasHead && found.vehicle === undefined && found.states.length === 0)
    return undefined;
  // "What is late" in a job's thread is asked of the workshop; "is it finished" of the job.
  if (found.states.includes('to-close') && !/\bjobs\b/u.test(plain)) return undefined;
  if (found.vehicle !== undefined && known.jobs.includes(found.vehicle)) return undefined;
  return { ask: 'jobs', ...asked };
};
