// A command of a message with what it is about: the job, the hold point, the step of the flag and the reason.

import type { Act } from '../../shared/reading.ts';
import { partNamed } from './clause.ts';
import { wantedOf } from './clause-acts/wanted.ts';
import type { ReadContext } from './context.ts';
import { findCommand } from './find-command.ts';
import type { Lexicon } from './lexicon.ts';
import type { StepPhrases } from './match/phrases.ts';
import { placesSaid } from './match/places-said.ts';
import { rankSteps } from './match/score.ts';
import { type Message, prepare } from './message.ts';

/** Where the reason of a decision begins. */
const REASON =
  /\b(?:because|cos|cause|as|since|due to|reason|weil|da|grund)\b[:\s]+|\s[-–—]\s|[:;,]\s+/iu;

/** Commands that name a step and may give a reason. */
const DECIDES: ReadonlySet<string> = new Set(['release', 'refuse', 'override']);

/** The text up to the reason, and the reason. */
function splitReason(text: string): { about: string; reason: string | undefined } {
  const found = REASON.exec(text);
  if (!found) return { about: text, reason: undefined };
  const reason = text.slice(found.index + found[0].length).trim();
  return { about: text.slice(0, found.index), reason: reason === '' ? undefined : reason };
}

/** The hold point that words behind "release" name; null where they name nothing, "none" where they are no hold point. */
function holdMeant(message: Message, lexicon: Lexicon): StepPhrases | 'none' | null {
  const clause = message.clauses[0];
  if (!clause) return null;
  const wanted = { ...wantedOf(clause), classes: [], lemmas: [], unknown: 0 };
  if (!partNamed(wanted)) return null;
  const ranked = rankSteps(wanted, message.tongue, lexicon, 12);
  const hold = ranked.find((one) => one.step.step?.hold !== undefined && one.part >= 0.4);
  return hold ? hold.step : 'none';
}

/** The step whose flag is meant: its title stands there, or it fits the words best. */
function stepNamed(about: Message, lexicon: Lexicon): StepPhrases | undefined {
  const text = about.raw.toLowerCase();
  const titled = about.tongue.steps
    .filter((step) => text.includes(step.title.toLowerCase()))
    .sort((a, b) => b.title.length - a.title.length)[0];
  if (titled) return titled;
  const clause = about.clauses[0];
  if (!clause) return undefined;
  const wanted = wantedOf(clause);
  if (!partNamed(wanted)) return undefined;
  const [best, second] = rankSteps(wanted, about.tongue, lexicon);
  if (!best || best.part < 0.5 || best.score - (second?.score ?? 0) < 0.01) return undefined;
  return best.step;
}

/** The act of a message that is a command, or undefined where it is none. */
export function commandOf(
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
): Act | undefined {
  const command = findCommand(message.words);
  if (!command) return undefined;
  const job = message.figures.find((figure) => figure.kind === 'job');
  const act: Act = {
    kind: 'command',
    command,
    positions: [],
    assumed: [],
    ...(job?.kind === 'job' ? { job: job.job } : {}),
    span: [0, message.raw.length],
  };
  if (!DECIDES.has(command)) return act;
  const { about, reason } = splitReason(message.raw);
  const named = reason === undefined ? message : prepare(about, lexicon, context);
  const step = command === 'override' ? stepNamed(named, lexicon) : holdMeant(named, lexicon);
  if (step === 'none') return undefined;
  const places = step ? placesSaid(step, named.figures, lexicon, context.positions).positions : [];
  return {
    ...act,
    ...(step ? { step: step.id, positions: [...places] } : {}),
    ...(reason === undefined ? {} : { note: reason }),
  };
}
