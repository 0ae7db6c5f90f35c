// What people are told and who decides: the reason of a weight, who releases, and levels that are only ever raised.

import { RULES, type Rule } from '../../../../shared/flag.ts';
import { LEVELS, type Level, type Weight } from '../../../../shared/plan.ts';
import { nearestName } from '../../nearest-name.ts';
import { short } from '../place.ts';
import type { MeaningRule, PlacedStep, Say } from '../survey.ts';

export const people: MeaningRule = (survey, say) => {
  for (const step of survey.steps) {
    why(step, say);
    raised(step, say);
    release(step, say);
  }
  for (const { at, it, id } of survey.watched) {
    if (it.is ?? it.opens ?? it.closes ?? it['not-while']) continue;
    say(
      at,
      {
        what: `The watched act "${short(id)}" bears on no vehicle state.`,
        expected: 'At least one of is, opens, closes, not-while.',
        mend: 'Say what it does to the vehicle, or take it out.',
      },
      'warning',
    );
  }
};

function why(step: PlacedStep, say: Say): void {
  const { weight } = step.it;
  if (weight === undefined || weight === 'routine' || step.it.why !== undefined) return;
  say([...step.at, 'weight'], {
    what: `S${step.says.slice(1)} is ${weight} and does not say why.`,
    expected: 'One sentence that a flag can give as the reason.',
    mend: 'Add "why: ..." with what breaks or who is hurt if it is left out.',
  });
}

const USUAL: Readonly<Record<Weight, Level>> = {
  'safety-critical': 'stop',
  'damage-critical': 'caution',
  routine: 'advice',
};
const ALWAYS_STOP: readonly string[] = ['unsafe-state', 'not-released', 'same-hands'];

function raised(step: PlacedStep, say: Say): void {
  const rules: readonly Rule[] = RULES;
  for (const [rule, level] of Object.entries(step.it.raise ?? {})) {
    const at = [...step.at, 'raise', rule];
    if (!(rules as readonly string[]).includes(rule)) {
      const nearest = nearestName(rule, rules);
      say(at, {
        what: `"raise" of ${step.says} names "${short(rule)}", which is no flag.`,
        expected: `One of ${rules.join(', ')}.`,
        mend: nearest ? `Write ${nearest}.` : 'Choose one of these, or take the line out.',
      });
      continue;
    }
    const usual = ALWAYS_STOP.includes(rule) ? 'stop' : USUAL[step.it.weight ?? 'routine'];
    if (level === undefined || LEVELS.indexOf(level) < LEVELS.indexOf(usual)) continue;
    say(at, {
      what: `"${rule}" of ${step.says} is to be "${level}", and is "${usual}" without that.`,
      expected: 'A level above the usual one: a plan may raise a flag, never lower it.',
      mend:
        usual === 'stop' ? 'Take the line out.' : `Write ${either(usual)}, or take the line out.`,
    });
  }
}

const either = (usual: Level): string => LEVELS.slice(0, LEVELS.indexOf(usual)).join(' or ');

function release(step: PlacedStep, say: Say): void {
  const roles = step.it.hold?.release ?? [];
  for (const [index, role] of roles.entries()) {
    if (role === undefined || roles.indexOf(role) === index) continue;
    say(
      [...step.at, 'hold', 'release', index],
      {
        what: `The hold point of ${step.says} names the ${role} twice.`,
        expected: 'Each role once.',
        mend: 'Take one out.',
      },
      'warning',
    );
  }
}
