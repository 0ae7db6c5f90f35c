// Order: no step waits for itself by a roundabout way, and no tie leads to a step that may not be there.

import { stepsBefore } from '../step-order.ts';
import { type MeaningRule, type PlacedStep, type Say, type Survey, use, uses } from '../survey.ts';

export const order: MeaningRule = (survey, say) => {
  cycles(survey, say);
  options(survey, say);
  windows(survey, say);
};

/** The shortest way from a step back to itself, told once for each set of steps. */
function cycles(survey: Survey, say: Say): void {
  const told = new Set<string>();
  for (const step of survey.steps) {
    if (step.id === '' || survey.stepOf.get(step.id) !== step) continue;
    const way = wayBack(step, survey);
    if (!way || way.length < 3) continue;
    const members = [...new Set(way)].sort().join(' ');
    if (told.has(members)) continue;
    told.add(members);
    const [first = '', ...rest] = way;
    say([...step.at, step.it.after === undefined ? 'id' : 'after'], {
      what: `${first} waits for ${rest.join(' waits for ')}.`,
      expected: 'An order with a beginning: no step waits for itself.',
      mend: `Take one of these ties out: the one that is not so in the workshop.`,
    });
  }
}

/** The ids from a step along the ties back to it, both ends included; undefined where no way leads back. */
function wayBack(start: PlacedStep, survey: Survey): readonly string[] | undefined {
  let ways: (readonly string[])[] = [[start.id]];
  const seen = new Set<string>();
  while (ways.length > 0) {
    const longer: (readonly string[])[] = [];
    for (const way of ways) {
      const step = survey.stepOf.get(way.at(-1) ?? '');
      for (const id of step ? stepsBefore(step.it) : []) {
        if (id === start.id) return [...way, id];
        if (seen.has(id)) continue;
        seen.add(id);
        longer.push([...way, id]);
      }
    }
    ways = longer;
  }
  return undefined;
}

function options(survey: Survey, say: Say): void {
  for (const { at, it, says } of survey.steps) {
    if (it.option === undefined) continue;
    for (const { at: place, name } of uses(it.after, [...at, 'after'])) {
      const option = survey.stepOf.get(name)?.it.option;
      if (option === undefined || option === it.option) continue;
      say(place, {
        what: `S${says.slice(1)} (option ${it.option}) comes after "${name}", which is only there with option ${option}.`,
        expected: 'A step of the same option, or one that every job has.',
        mend: 'Name the step both options rest on, or give the two the same option.',
      });
    }
  }
}

/** "At least" and "at most" after the same step must leave a time in which the step can be done. */
function windows(survey: Survey, say: Say): void {
  for (const { at, it, says } of survey.steps) {
    const { within } = it;
    if (!within) continue;
    if (within.minutes === undefined && within.km === undefined) {
      say([...at, 'within'], {
        what: `"within" of ${says} has neither minutes nor km.`,
        expected: 'The latest time or distance after the other step.',
        mend: 'Add "minutes: 30", or "km: {min: 40, max: 80}".',
      });
    }
    for (const [index, wait] of (it.waits ?? []).entries()) {
      const same = wait?.after === within.after && use(wait?.after, []).length > 0;
      if (!same || wait?.minutes === undefined || within.minutes === undefined) continue;
      if (wait.minutes <= within.minutes) continue;
      say([...at, 'waits', index, 'minutes'], {
        what: `S${says.slice(1)} waits ${wait.minutes} min after "${wait.after}" and is due within ${within.minutes} min of it.`,
        expected: 'A wait no longer than the time within which the step is due.',
        mend: 'Correct one of the two times.',
      });
    }
  }
}
