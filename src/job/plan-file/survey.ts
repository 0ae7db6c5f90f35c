// The parts of a plan file gathered with their places, for the rules about its meaning.
import { type Complaint, PLAN_UNITS } from '../../../shared/plan.ts';
import { nearestName } from '../nearest-name.ts';
import type { Draft, DraftAsk, DraftStep, DraftWatched } from './draft.ts';
import { inWords, type Path, short } from './place.ts';

export type Placed<T> = { readonly at: Path; readonly it: T };
export type PlacedStep = Placed<DraftStep> & {
  readonly id: string;
  /** `step "drain-coolant"`, or `step 4` where it has no id. */
  readonly says: string;
  readonly asks: readonly Placed<DraftAsk>[];
};
/** A name where it is used. */
export type Use = { readonly at: Path; readonly name: string };

export type Survey = {
  readonly plan: Draft;
  readonly steps: readonly PlacedStep[];
  readonly watched: readonly (Placed<DraftWatched> & { readonly id: string })[];
  readonly stepIds: ReadonlySet<string>;
  /** The first step of each id. */
  readonly stepOf: ReadonlyMap<string, PlacedStep>;
};

export type Words = Pick<Complaint, 'what' | 'expected' | 'mend'>;
export type Say = (at: Path, words: Words, level?: Complaint['level']) => void;
/** One group of rules about what a plan means. Rules skip what is missing: the form has been complained about. */
export type MeaningRule = (survey: Survey, say: Say) => void;

/** Every item of a list that is there, with its place. */
export function placed<T>(list: readonly (T | undefined)[] | undefined, at: Path): Placed<T>[] {
  return (list ?? []).flatMap((it, index) =>
    it === undefined ? [] : [{ at: [...at, index], it }],
  );
}

/** Every name of a list, with its place. Names that are not spelled as names have their complaint already. */
export function uses(names: readonly (string | undefined)[] | undefined, at: Path): Use[] {
  return placed(names, at)
    .filter(({ it }) => isName(it))
    .map((name) => ({ at: name.at, name: name.it }));
}

/** A single name as a list of uses: empty where there is none. */
export function use(name: string | undefined, at: Path): Use[] {
  return name !== undefined && isName(name) ? [{ at, name }] : [];
}

const isName = (text: string): boolean => /^[a-z0-9]+(-[a-z0-9]+)*$/.test(text);

/** Gathers the plan. */
export function survey(plan: Draft): Survey {
  const steps = placed(plan.steps, ['steps']).map(({ at, it }): PlacedStep => {
    const id = it.id ?? '';
    return {
      at,
      it,
      id,
      says: id === '' ? `step ${Number(at[1]) + 1}` : `step "${short(id)}"`,
      asks: placed(it.report, [...at, 'report']),
    };
  });
  const stepOf = new Map<string, PlacedStep>();
  for (const step of steps) if (step.id !== '' && !stepOf.has(step.id)) stepOf.set(step.id, step);
  return {
    plan,
    steps,
    watched: placed(plan.watched, ['watched']).map((act) => ({ ...act, id: act.it.id ?? '' })),
    stepIds: new Set(stepOf.keys()),
    stepOf,
  };
}

/** Complains about a name that nothing of the plan has. */
export function sayUnknown(
  say: Say,
  { at, name }: Use,
  thing: string,
  known: Iterable<string>,
  where: string,
): void {
  const names = [...known];
  const nearest = nearestName(name, names);
  say(at, {
    what: `${capital(where)} names the ${thing} ${inWords(name)}, which the plan does not have.`,
    expected:
      names.length > 0 ? `One of ${names.join(', ')}.` : `A ${thing} that the plan defines.`,
    mend: nearest
      ? `Write ${nearest}, or add the ${thing}.`
      : `Add the ${thing}, or take the name out.`,
  });
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
export const UNITS_OF_VOLUME: readonly string[] = PLAN_UNITS.filter((unit) =>
  /^(L|mL|gal_|qt_|pt_)/.test(unit),
);
