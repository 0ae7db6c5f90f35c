// The people of a day: they post, edit, delete, sign and tap on the platform as the day has it, whoever listens there.
import type { Button, DayPlatform } from './day-platform.ts';
import type { Happening } from './make-day.ts';

type Tapping = Extract<Happening, { does: 'tap' }>;

/** Lets everything that is ready go one step on. */
export const turnOfLoop = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

const meansIt = (button: Button, tap: Tapping): boolean => {
  const { intent } = button;
  if (intent.do !== tap.means.do || !('job' in intent) || intent.job !== tap.job) return false;
  const { step } = tap.means;
  if (step === undefined) return true;
  return 'step' in intent
    ? intent.step === step
    : 'flag' in intent && intent.flag.includes(`|${step}|`);
};

/** @param beforeReply what goes wrong with a reply in a thread is set up in it */
export const dayHands = (place: DayPlatform, clock: () => string, beforeReply: () => void) => {
  const ids = new Map<number, string>();
  const threads = new Map<string, string>();
  let taps: Tapping[] = [];

  const threadOf = (job: string): string => {
    const known = threads.get(job);
    if (known !== undefined) return known;
    const sheet = place
      .standing()
      .find(({ byBot, key }) => byBot && key?.startsWith(`${job}|`) && key.endsWith('|sheet'));
    if (!sheet) throw new Error(`Job ${job} has no thread by ${clock()}.`);
    threads.set(job, sheet.message);
    return sheet.message;
  };
  const idOf = (n: number): string => {
    const id = ids.get(n);
    if (id === undefined) throw new Error(`Number ${n} of the day was not posted.`);
    return id;
  };

  return {
    /** The platform's id of each person's message, by its number in the day. */
    ids: ids as ReadonlyMap<number, string>,
    act: async (happening: Happening): Promise<void> => {
      switch (happening.does) {
        case 'open':
          ids.set(happening.n, await place.post(happening.by, happening.text, undefined));
          return;
        case 'say': {
          const thread = threadOf(happening.job);
          beforeReply();
          ids.set(happening.n, await place.post(happening.by, happening.text, thread));
          return;
        }
        case 'edit':
          return place.edit(happening.by, idOf(happening.of), happening.text);
        case 'delete':
          return place.remove(happening.by, idOf(happening.of));
        case 'react':
          return place.react(happening.by, idOf(happening.of), happening.sign);
        case 'tap':
          taps.push(happening);
          return;
      }
    },
    /** Whoever wants to tap looks for the button again and again, and taps again where it did not work. */
    tapWhatIsThere: async (): Promise<void> => {
      for (const tap of taps) {
        const found = place
          .standing()
          .filter(({ byBot, deleted }) => byBot && !deleted)
          .flatMap((each) => each.buttons.map((button) => ({ each, button })))
          .findLast(({ button }) => meansIt(button, tap));
        if (!found) continue;
        if (await place.tap(tap.by, found.each.message, found.button, tap.fields ?? {}))
          taps = taps.filter((other) => other !== tap);
      }
    },
    /** Taps that found no button until now. */
    untapped: (): readonly string[] =>
      taps.map(({ by, job, means }) => `${by} ${job} ${JSON.stringify(means)}`),
  };
};
