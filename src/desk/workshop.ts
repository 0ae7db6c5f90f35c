// What the desk knows of the workshop: its people, its shifts, its plans. Made once from the settings; pure.
import type { Person, Settings } from '../../shared/settings.ts';
import type { RegisteredTool } from '../../shared/tools.ts';
import type { Plan } from '../job/plan.ts';
import { buildLexicon, type Lexicon } from '../language/lexicon.ts';
import type { WorkCalendar } from '../trade/work-calendar.ts';
import { calendarOf } from './calendar.ts';

export type Workshop = {
  readonly settings: Settings;
  /** Plans a job can be opened with, by their `plan` name. */
  readonly plans: ReadonlyMap<string, Plan>;
  /** The words of a plan, built once for each text of a plan. */
  /** The register of torque tools. */
  readonly tools: readonly RegisteredTool[];
  /** The shifts; undefined where the settings name none. */
  readonly calendar: WorkCalendar | undefined;
  readonly lexiconOf: (plan: Plan) => Lexicon;
};

/** @param plans plans a job can be opened with; a job that was opened with another text keeps its own. */
export const workshopOf = (
  settings: Settings,
  plans: readonly Plan[],
  tools: readonly RegisteredTool[] = [],
): Workshop => {
  const lexicons = new Map<string, Lexicon>();
  return {
    settings,
    plans: new Map(plans.map((plan) => [plan.plan, plan])),
    tools,
    calendar: calendarOf(settings),
    lexiconOf: (plan) => {
      const known = lexicons.get(plan.hash);
      if (known) return known;
      const made = buildLexicon(plan);
      lexicons.set(plan.hash, made);
      return made;
    },
  };
};

const plain = (name: string): string => name.trim().toLocaleLowerCase('en');

/** The person with this name, or one of the other names people call them. */
export const personNamed = (settings: Settings, name: string): Person | undefined =>
  settings.people.find((person) => plain(person.name) === plain(name)) ??
  settings.people.find((person) => person.also?.some((other) => plain(other) === plain(name)));

/** The person behind a platform's id: a Slack or Teams id from the settings, on the bench the name itself. */
export const personBehind = (
  settings: Settings,
  channel: 'bench' | 'slack' | 'teams',
  id: string,
): Person | undefined =>
  channel === 'bench'
    ? personNamed(settings, id)
    : settings.people.find((person) => person[channel] === id);
