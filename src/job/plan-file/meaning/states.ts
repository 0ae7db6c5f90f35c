// Vehicle states: what opens must be able to close, and no step may be forbidden for as long as it can be done.
import { nearestName } from '../../nearest-name.ts';
import { reachable, stepsBefore } from '../step-order.ts';
import { type MeaningRule, type Say, type Survey, type Use, use, uses } from '../survey.ts';

export const states: MeaningRule = (survey, say) => {
  const opened = usesOf(survey, 'opens');
  const closed = usesOf(survey, 'closes');
  const closedNames = new Set(closed.map((place) => place.name));
  const openedNames = new Set(opened.map((place) => place.name));
  for (const { at, name } of firsts(opened)) {
    if (closedNames.has(name)) continue;
    say(at, {
      what: `The state "${name}" is opened here and nothing closes it.`,
      expected:
        'A step that closes each state the plan opens: a job cannot be closed while one is open.',
      mend: `Add "closes: [${name}]" to the step that ends it.`,
    });
  }
  for (const { at, name } of firsts(closed)) {
    if (openedNames.has(name)) continue;
    say(at, {
      what: `The state "${name}" is closed here and nothing opens it.`,
      expected: 'A step or watched act that opens each state the plan closes.',
      mend: `Add "opens: [${name}]" to the step that begins it.`,
    });
  }
  onlyWithOption(survey, say);
  atOnce(survey, say);
  forbiddenForGood(survey, say);
  forbiddenActs(survey, say);
};

function usesOf(survey: Survey, key: 'opens' | 'closes'): readonly Use[] {
  return [...survey.steps, ...survey.watched].flatMap(({ at, it }) => uses(it[key], [...at, key]));
}

function firsts(all: readonly Use[]): readonly Use[] {
  return all.filter((one, index) => all.findIndex((other) => other.name === one.name) === index);
}

/** A state that every job opens and only an option closes would keep the other jobs open for ever. */
function onlyWithOption(survey: Survey, say: Say): void {
  for (const { at, it, says } of survey.steps) {
    for (const { at: place, name } of uses(it.opens, [...at, 'opens'])) {
      const closers = [...survey.steps, ...survey.watched].filter(({ it: other }) =>
        other.closes?.includes(name),
      );
      const always = closers.some(
        ({ it: other }) => !('option' in other) || !other.option || other.option === it.option,
      );
      if (closers.length === 0 || always) continue;
      say(place, {
        what: `S${says.slice(1)} opens "${name}", and only steps of other options close it.`,
        expected: 'A step that closes it on every job that opens it.',
        mend: `Add "closes: [${name}]" to a step without that option.`,
      });
    }
  }
}

function atOnce(survey: Survey, say: Say): void {
  for (const { at, it, says } of survey.steps) {
    for (const { at: place, name } of uses(it.closes, [...at, 'closes'])) {
      if (it.opens?.includes(name)) {
        say(place, {
          what: `S${says.slice(1)} both opens and closes "${name}".`,
          expected: 'One step that opens a state and a later one that closes it.',
          mend: 'Keep the one that is so, and move the other to the step where it happens.',
        });
      }
      if (it['not-while']?.includes(name)) {
        say(place, {
          what: `S${says.slice(1)} must not happen during "${name}", yet it is the step that closes it.`,
          expected: 'A step that may happen during the state it ends.',
          mend: `Take "${name}" out of not-while or out of closes.`,
        });
      }
    }
  }
}

/** A step that comes after all that opens a state and before all that closes it can never be done without a flag. */
function forbiddenForGood(survey: Survey, say: Say): void {
  const before = reachable(
    new Map([...survey.stepOf].map(([id, step]) => [id, stepsBefore(step.it)])),
  );
  for (const { at, it, id, says } of survey.steps) {
    const acts = use(it.is, [...at, 'is']);
    const byAct = acts.flatMap((act) =>
      Object.entries(survey.plan.states ?? {}).flatMap(([name, state]) =>
        state?.forbids?.includes(act.name) ? [{ at: act.at, name }] : [],
      ),
    );
    for (const { at: place, name } of [...uses(it['not-while'], [...at, 'not-while']), ...byAct]) {
      const opener = survey.steps.find(
        (other) =>
          other.it.opens?.includes(name) && !other.it.option && before.get(id)?.has(other.id),
      );
      const closers = survey.steps.filter((other) => other.it.closes?.includes(name));
      const watched = survey.watched.some((act) => act.it.closes?.includes(name));
      const late = closers.every((closer) => before.get(closer.id)?.has(id));
      if (!opener || watched || closers.length === 0 || !late) continue;
      say(place, {
        what: `S${says.slice(1)} must not happen during "${name}", which "${opener.id}" opens before it and "${closers[0]?.id}" closes only after it.`,
        expected:
          'A step that closes the state before this one, or an order in which it can be done.',
        mend: `Put "${closers[0]?.id}" first, or take the restriction out if the work is safe.`,
      });
    }
  }
}

/** An act may be forbidden for other jobs on the vehicle, so an act that no step is, is wrong only if it is nearly one. */
function forbiddenActs(survey: Survey, say: Say): void {
  const known = new Set([...survey.steps, ...survey.watched].flatMap(({ it }) => it.is ?? []));
  for (const [name, state] of Object.entries(survey.plan.states ?? {})) {
    for (const { at, name: act } of uses(state?.forbids, ['states', name, 'forbids'])) {
      const nearest = known.has(act) ? undefined : nearestName(act, known);
      if (!nearest) continue;
      say(
        at,
        {
          what: `The state "${name}" forbids "${act}", and no step or watched act of this plan is that.`,
          expected: `The spelling of "is" in the step, such as ${nearest}.`,
          mend: `Write ${nearest}, or leave it if another plan has this act.`,
        },
        'warning',
      );
    }
  }
}
