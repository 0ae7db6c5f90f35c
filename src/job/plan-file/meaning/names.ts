// Names: each defined once, and every name that is used defined.
import type { Path } from '../place.ts';
import {
  type MeaningRule,
  type Say,
  type Survey,
  sayUnknown,
  type Use,
  use,
  uses,
} from '../survey.ts';

export const names: MeaningRule = (survey, say) => {
  doubledIds(survey, say);
  doubledPositions(survey, say);
  stepNames(survey, say);
  setNames(survey, say);
};

function doubledIds(survey: Survey, say: Say): void {
  const first = new Map<string, string>();
  for (const { at, id } of [...survey.steps, ...survey.watched]) {
    if (id === '') continue;
    const thing = at[0] === 'steps' ? 'step' : 'watched act';
    const before = first.get(id);
    first.set(id, before ?? `${thing} ${Number(at[1]) + 1}`);
    if (before === undefined) continue;
    say([...at, 'id'], {
      what: `The id "${id}" is already that of ${before}.`,
      expected: 'A different id for each step and each watched act.',
      mend: `Rename one of the two, and check which of them other lines mean.`,
    });
  }
}

function doubledPositions(survey: Survey, say: Say): void {
  const first = new Map<string, string>();
  for (const [set, { names: positions } = {}] of Object.entries(survey.plan.positions ?? {})) {
    for (const [index, name] of (positions ?? []).entries()) {
      if (name === undefined) continue;
      const spelled = name.trim().toLowerCase().replace(/\s+/g, ' ');
      const before = first.get(spelled);
      first.set(spelled, before ?? set);
      if (before === undefined) continue;
      say(['positions', set, 'names', index], {
        what: `The position "${name}" is already in the set "${before}".`,
        expected: 'Each position name once in the whole plan.',
        mend:
          before === set
            ? 'Take one of the two out.'
            : `Give it a name of its own, such as "${set} ${name}".`,
      });
    }
  }
}

function stepNames(survey: Survey, say: Say): void {
  for (const { at, it, says, id } of survey.steps) {
    const named: readonly (readonly [string, readonly Use[]])[] = [
      ['"after"', uses(it.after, [...at, 'after'])],
      ['"check"', uses(it.check, [...at, 'check'])],
      ['"undoes"', uses(it.undoes, [...at, 'undoes'])],
      [
        '"waits"',
        (it.waits ?? []).flatMap((wait, n) => use(wait?.after, [...at, 'waits', n, 'after'])),
      ],
      ['"within"', use(it.within?.after, [...at, 'within', 'after'])],
    ];
    for (const [key, names] of named) {
      const seen = new Set<string>();
      for (const name of names) {
        if (seen.has(name.name)) sayTwice(say, name, `${key} of ${says}`);
        else if (name.name === id) saySelf(say, name, key, says);
        else if (!survey.stepIds.has(name.name)) {
          sayUnknown(say, name, 'step', survey.stepIds, `${key} of ${says}`);
        }
        if (key !== '"waits"') seen.add(name.name);
      }
    }
  }
}

function saySelf(say: Say, { at }: Use, key: string, says: string): void {
  const meanings: Readonly<Record<string, string>> = {
    '"after"': 'comes after itself',
    '"check"': 'is to be an independent check of itself',
    '"undoes"': 'undoes itself',
    '"waits"': 'waits for itself',
    '"within"': 'is due after itself',
  };
  say(at, {
    what: `S${says.slice(1)} ${meanings[key]}.`,
    expected: 'The id of another step.',
    mend:
      key === '"check"'
        ? 'Name the steps whose work is checked.'
        : 'Name the other step, or take the line out.',
  });
}

function sayTwice(say: Say, { at, name }: Use, where: string): void {
  say(
    at,
    {
      what: `"${name}" stands twice in ${where}.`,
      expected: 'Each name once in a list.',
      mend: 'Take one out, or correct it if another was meant.',
    },
    'warning',
  );
}

function setNames(survey: Survey, say: Say): void {
  const { plan } = survey;
  const sets = {
    'position set': Object.keys(plan.positions ?? {}),
    fluid: Object.keys(plan.fluids ?? {}),
    'vehicle state': Object.keys(plan.states ?? {}),
    'kind of tool': Object.keys(plan.tools ?? {}),
    option: Object.keys(plan.options ?? {}),
  } as const;
  const used = new Set<string>();
  const look = (thing: keyof typeof sets, names: readonly Use[], where: string) => {
    for (const name of names) {
      used.add(`${thing}/${name.name}`);
      if (!sets[thing].includes(name.name)) sayUnknown(say, name, thing, sets[thing], where);
    }
  };
  for (const { at, it, says, asks } of survey.steps) {
    look('position set', use(it.each, [...at, 'each']), says);
    look('option', use(it.option, [...at, 'option']), says);
    lookAtStates(look, it, at, says);
    for (const ask of asks) {
      const where = `a report of ${says}`;
      if (ask.it.kind === 'drained' || ask.it.kind === 'filled') {
        look('fluid', use(ask.it.fluid, [...ask.at, 'fluid']), where);
      }
      if (ask.it.kind === 'tightening' || ask.it.kind === 'loosening') {
        look('kind of tool', use(ask.it.tool, [...ask.at, 'tool']), where);
      }
    }
  }
  for (const { at, it, id } of survey.watched) lookAtStates(look, it, at, `watched act "${id}"`);
  for (const [thing, names] of Object.entries(sets)) {
    for (const name of names) if (!used.has(`${thing}/${name}`)) sayUnused(say, thing, name);
  }
}

type Look = (thing: 'vehicle state', names: readonly Use[], where: string) => void;
type WithStates = Readonly<
  Partial<Record<'opens' | 'closes' | 'not-while', readonly (string | undefined)[] | undefined>>
>;

function lookAtStates(look: Look, it: WithStates, at: Path, says: string): void {
  for (const key of ['opens', 'closes', 'not-while'] as const) {
    look('vehicle state', uses(it[key], [...at, key]), `"${key}" of ${says}`);
  }
}

const KEY_OF: Readonly<Record<string, string>> = {
  'position set': 'positions',
  fluid: 'fluids',
  'vehicle state': 'states',
  'kind of tool': 'tools',
  option: 'options',
};

function sayUnused(say: Say, thing: string, name: string): void {
  say(
    [KEY_OF[thing] ?? thing, name],
    {
      what: `No step uses the ${thing} "${name}".`,
      expected: 'Something in the plan that uses it.',
      mend: 'Add it to the step that was meant, or take it out.',
    },
    'warning',
  );
}
