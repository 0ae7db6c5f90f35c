// What of a workshop is not in settings.yaml or a plan file but was added while it ran: with a database it is kept there, so
// that every process has it, whichever one it was added at.

import { z } from 'zod';
import { Person, type Settings } from '../../shared/settings.ts';
import { changePaper } from '../chat/change-paper.ts';
import { loadPlan } from '../job/load-plan.ts';
import type { Plan } from '../job/plan.ts';
import type { SharedShelf } from '../store/shared-shelf.ts';

const PEOPLE = 'people';
const PLAN = 'plan:';
/** Milliseconds between two looks at what other processes added. */
const LOOK_MS = 1_000;

const TakenIn = z.array(z.strictObject({ person: Person, by: z.string(), at: z.string() }));
type TakenIn = z.infer<typeof TakenIn>;

const readPeople = (text: string | undefined): TakenIn => {
  const read = text === undefined ? undefined : TakenIn.safeParse(JSON.parse(text));
  return read?.success ? read.data : [];
};

type Papers = Pick<SharedShelf, 'paper' | 'papers' | 'writePaper'>;

type SharedWorkshop = {
  /** The settings with those who were taken in at any process; who is in the file stays as the file has them. */
  readonly settings: () => Settings;
  readonly takeIn: (person: Person, by: string) => Promise<Settings>;
  readonly writePlan: (plan: string, text: string) => Promise<void>;
  /** Looks at once for what other processes added. */
  readonly look: () => Promise<void>;
  readonly begin: (onSettings: (settings: Settings) => void) => void;
  readonly stop: () => void;
};

/**
 * @param given the settings of the file
 * @param plans what saved plans are put among; those that are there from the start are left as they are
 */
export const sharedWorkshop = async (
  shelf: Papers,
  given: Settings,
  plans: Map<string, Plan>,
  clock: () => string,
  onTrouble: (why: string) => void,
): Promise<SharedWorkshop> => {
  const fixed = new Set(plans.keys());
  const seen = new Map<string, number>();
  let peopleText: string | undefined;
  let changed: (settings: Settings) => void = () => undefined;
  let timer: NodeJS.Timeout | undefined;
  let isLost = false;

  const settings = (): Settings => {
    const names = new Set(given.people.map(({ name }) => name));
    const more = readPeople(peopleText).flatMap(({ person }) =>
      names.has(person.name) ? [] : [person],
    );
    return { ...given, people: [...given.people, ...more] };
  };

  const look = async (): Promise<void> => {
    for (const { name, text, rev } of await shelf.papers(PLAN)) {
      const id = name.slice(PLAN.length);
      if (seen.get(id) === rev || fixed.has(id)) continue;
      seen.set(id, rev);
      const { plan } = loadPlan(JSON.parse(text) as string, id);
      if (plan) plans.set(plan.plan, plan);
      else
        onTrouble(
          `The plan ${id}, saved on the bench, is not read by this version of the program.`,
        );
    }
    const text = (await shelf.paper(PEOPLE))?.text;
    if (text === peopleText) return;
    peopleText = text;
    changed(settings());
  };

  await look();
  return {
    settings,
    takeIn: async (person, by) => {
      await changePaper(shelf, PEOPLE, (text) => [
        JSON.stringify([
          ...readPeople(text).filter((each) => each.person.name !== person.name),
          { person, by, at: clock() },
        ]),
        undefined,
      ]);
      await look();
      return settings();
    },
    writePlan: (plan, text) =>
      changePaper(shelf, `${PLAN}${plan}`, () => [JSON.stringify(text), undefined]),
    look,
    begin: (onSettings) => {
      changed = onSettings;
      onSettings(settings());
      const next = (): void => {
        timer = setTimeout(
          () =>
            void look()
              .then(
                () => {
                  isLost = false;
                },
                (error: Error) => {
                  if (!isLost)
                    onTrouble(`What other processes added is not to be had: ${error.message}`);
                  isLost = true;
                },
              )
              .then(() => timer && next()),
          LOOK_MS,
        );
        timer.unref();
      };
      next();
    },
    stop: () => {
      clearTimeout(timer);
      timer = undefined;
    },
  };
};

/** Takes a person out of those who were taken in. @returns how many were */
export const removeTakenIn = (shelf: Papers, names: readonly string[]): Promise<number> =>
  changePaper(shelf, PEOPLE, (text) => {
    if (text === undefined) return [undefined, 0];
    const all = readPeople(text);
    const left = all.filter(({ person }) => !names.includes(person.name));
    const next = left.map((each) =>
      names.includes(each.by) ? { ...each, by: 'removed person' } : each,
    );
    return [JSON.stringify(next), all.length - left.length];
  });
