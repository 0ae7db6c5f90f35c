// Which buttons mean anything in whose hands. Hiding one is a kindness, never the guard: the desk asks again at the tap.
import type { Settings } from '../../shared/settings.ts';
import type { BenchHold, BenchJob, BenchView } from '../chat/bench/bench-view.ts';
import type { Intent } from '../desk/card.ts';
import { type Deed, mayDo, mayRelease, mayReleaseToRoad } from '../desk/roles.ts';
import type { JobView } from '../job/view.ts';

const DEEDS: Readonly<Partial<Record<Intent['do'], Deed>>> = {
  override: 'override',
  acknowledge: 'acknowledge',
  'settle-finding': 'settle-finding',
  'open-job': 'open-job',
  'close-job': 'close-job',
  'cancel-job': 'cancel-job',
};

/** The hold points of a job that wait, each with those who may release it: by role, and no hands that did the work. */
export const holdsOf = (view: JobView, people: Settings['people']): readonly BenchHold[] =>
  view.holds
    .filter(({ state }) => state === 'waits' || state === 'refused')
    .map((hold) => ({
      step: hold.step,
      position: hold.position,
      who: people.filter((person) => mayRelease(view, person, hold).ok).map(({ name }) => name),
    }));

/** The button behind which the words "release to the road" stand. */
const ROAD = 'release to the road';

/** @returns whether a button means anything in a person's hands */
export const mayTapIn =
  (settings: () => Settings): NonNullable<BenchView['may']> =>
  (person, intent, job) => {
    const who = { ...person, roles: [...person.roles] };
    if (intent.do === 'release' || intent.do === 'refuse')
      return mayReleaseAt(person.name, intent, job);
    if (intent.do === 'say') return intent.text !== ROAD || mayReleaseToRoad(settings(), who).ok;
    const deed = DEEDS[intent.do];
    return deed === undefined || mayDo(who, deed).ok;
  };

const mayReleaseAt = (
  name: string,
  { step, position }: { readonly step: string; readonly position: string | null },
  job: BenchJob | undefined,
): boolean =>
  job?.holds?.some(
    (hold) => hold.step === step && hold.position === position && hold.who.includes(name),
  ) === true;
