// A day in a workshop, made of a seed: who opens which job, what is posted in its thread, put right, deleted and tapped.
// Only the shipped plans are known here, not how messages are read: what a post should come to is known from why it was made.
import type { Intent } from '../../../../src/desk/card.ts';
import type { Plan } from '../../../../src/job/plan.ts';
import { randomFrom } from '../../../store/random.ts';
import { pick, type Random, stepWords } from './step-words.ts';

/** Whether a person's post carries the bot's sign in the end: a report does, talk and questions do not. */
export type Expected = 'signed' | 'plain';

type Common = {
  /** Unique in the day; its place in the order of the day. */
  readonly n: number;
  /** ISO. */
  readonly at: string;
  readonly job: string;
  readonly by: string;
};
export type Happening =
  | (Common & { readonly does: 'open'; readonly text: string })
  | (Common & { readonly does: 'say'; readonly text: string; readonly expected: Expected })
  | (Common & { readonly does: 'edit'; readonly of: number; readonly text: string })
  | (Common & { readonly does: 'delete'; readonly of: number })
  | (Common & { readonly does: 'react'; readonly of: number; readonly sign: string })
  /** Taps a button that means this, as soon as there is one; `choice` by its words. */
  | (Common & {
      readonly does: 'tap';
      readonly means: { readonly do: Intent['do']; readonly step?: string };
      readonly fields?: Readonly<Record<string, string>>;
    });

export type DaySize = {
  readonly technicians: number;
  readonly jobs: number;
  /** Messages that people post, the openings among them. */
  readonly messages: number;
};
export const WHOLE_DAY: DaySize = { technicians: 40, jobs: 25, messages: 3_000 };
export const SHORT_DAY: DaySize = { technicians: 6, jobs: 5, messages: 210 };
export const SHORTEST_DAY: DaySize = { technicians: 3, jobs: 2, messages: 80 };

export type Day = {
  readonly size: DaySize;
  readonly start: string;
  readonly end: string;
  /** Nobody taps meanwhile: where the bot is away the platform says at once that a tap did not work. */
  readonly outage: { readonly from: string; readonly to: string };
  readonly technicians: readonly string[];
  readonly controllers: readonly string[];
  readonly happenings: readonly Happening[];
};

const DAY = '2026-03-10T';
const at = (time: string): number => Date.parse(`${DAY}${time}:00.000Z`);
const MINUTE = 60_000;
const OPENS = at('06:00');
const CLOSES = at('16:00');
const OUTAGE = { from: at('10:10'), to: at('10:30') };
/** Taps come back so many minutes after the outage: the cards have to be there again. */
const NO_TAPS = { from: OUTAGE.from - 3 * MINUTE, to: OUTAGE.to + 15 * MINUTE };

const CONTROLLERS = ['Robin', 'Wenda', 'Sasha'] as const;
const FIRST = ['Ada', 'Bo', 'Cy', 'Dee', 'Eli', 'Fay', 'Gus', 'Ivy', 'Jan', 'Kit'] as const;
const SECOND = ['', 'lyn', 'mar', 'ton'] as const;

/** Said in every workshop, and nothing of it is a report. */
const TALK = [
  'who has the long puller',
  'by the parts washer',
  'tea at ten',
  'anyone seen the big trolley jack',
  'forklift is in the way again',
  'can somebody turn the radio down',
  'lunch?',
  'who took my torch',
  'the vending machine ate my money',
  'whose van is across the gate',
  'cheers',
  'ta',
  'haha',
  'is it raining still',
  'has anybody got a pen',
] as const;
const QUESTIONS = ["what's next", 'where are we'] as const;

/** Words in place of the plan's first ones, where those alone could mean something else in a workshop. */
const OTHER_WORDS: Readonly<Record<string, string>> = { 'lock-hub-nut': 'nut locked' };

type Line = { readonly step: string; readonly text: string; readonly hold: boolean };

const linesOf = (plan: Plan, positions: readonly string[], random: Random): readonly Line[] =>
  plan.steps
    .filter((step) => step.option === undefined)
    .flatMap((step) => {
      const words = OTHER_WORDS[step.id];
      const said = words === undefined ? step : { ...step, words: [words] };
      return (step.each === undefined ? [null] : positions).flatMap((position) =>
        stepWords(plan, said, position, random).map((text) => ({
          step: step.id,
          text,
          hold: step.hold !== undefined,
        })),
      );
    });

type Rough = Happening extends infer H
  ? H extends Happening
    ? Omit<H, 'n' | 'at'>
    : never
  : never;
type Draft = { readonly when: number; readonly made: Rough; readonly key: object };

/** The thread of one job, from the opening on, at most so many posts. */
const threadOf = (
  job: string,
  plan: Plan,
  budget: number,
  opened: number,
  technician: string,
  mate: string,
  controller: string,
  random: Random,
): readonly (Draft & { readonly of?: object })[] => {
  const positions = plan.positions ? ['front left', 'front right'] : [];
  const lines = linesOf(plan, positions, random);
  const drafts: (Draft & { readonly of?: object })[] = [];
  const gap = (CLOSES - opened - 30 * MINUTE) / budget;
  let when = opened + 2 * MINUTE;
  let posts = 1;
  const add = (made: Rough, later: number, of?: object): object => {
    const key = {};
    if (made.does === 'say') posts += 1;
    drafts.push({ when: when + later, made, key, ...(of ? { of } : {}) });
    return key;
  };
  const say = (text: string, expected: Expected, by = technician, later = 0): object =>
    add({ does: 'say', job, by, text, expected }, later);
  /** A fifth of all posts follow the one before within seconds, as people write. */
  const wait = (): void => {
    when += random() < 0.2 ? 4_000 + random() * 9_000 : Math.max(20_000, gap * (0.5 + random()));
  };
  const chance = (share: number): boolean => random() < share;
  const tap = (
    by: string,
    means: { readonly do: Intent['do']; readonly step?: string },
    later: number,
    fields?: Readonly<Record<string, string>>,
  ): object => add({ does: 'tap', job, by, means, ...(fields ? { fields } : {}) }, later);

  const talkShare = Math.max(0, (budget - lines.length - 8) / budget);
  let index = 0;
  while (posts < budget && when < CLOSES - 20 * MINUTE) {
    while (posts < budget && chance(talkShare)) {
      const by = chance(0.5) ? mate : technician;
      if (chance(0.12)) say(pick(random, QUESTIONS), 'plain', by);
      else {
        const talk = say(pick(random, TALK), 'plain', by);
        if (chance(0.1)) add({ does: 'delete', job, by, of: 0 }, 40_000 + random() * 60_000, talk);
        if (chance(0.1))
          add({ does: 'react', job, by: controller, of: 0, sign: 'joy' }, 15_000, talk);
      }
      wait();
    }
    const line = lines[index];
    if (!line || posts >= budget) {
      if (!line) break;
      continue;
    }
    const next = lines[index + 1];
    const by = line.step.startsWith('second-check') ? mate : technician;
    if (chance(0.04) && next && next.step !== line.step && !line.hold) {
      // Forgotten, and put in later: the order is then asked about, or a stop is raised and withdrawn.
      say(next.text, 'signed');
      say(line.text, 'signed', by, 4 * MINUTE);
      index += 2;
      when += 6 * MINUTE;
      wait();
      continue;
    }
    if (chance(0.03) && lines[index + 6]) {
      // Meant for another job: a step far ahead, deleted once somebody sees it.
      const wrong = say(lines[index + 6]?.text ?? '', 'signed');
      add({ does: 'delete', job, by: technician, of: 0 }, 90_000, wrong);
      when += 3 * MINUTE;
      wait();
    }
    const figure = /(\d+)( L| Nm)/u.exec(line.text);
    if (figure && chance(0.15)) {
      // A slip of the finger, put right a little later.
      const slip = line.text.replace(figure[0], `${figure[1]}0${figure[2]}`);
      const wrong = say(slip, 'signed', by);
      add({ does: 'edit', job, by, of: 0, text: line.text }, 70_000, wrong);
      when += 2 * MINUTE;
    } else say(line.text, 'signed', by);
    wait();
    if (line.hold && next?.step !== line.step) {
      when += 2 * MINUTE;
      const step = plan.stepById.get(line.step)?.title.toLowerCase() ?? line.step;
      if (next && chance(0.4)) {
        // Went past the hold point: a stop, seen and then settled by the controller.
        say(next.text, 'signed');
        index += 1;
        tap(controller, { do: 'acknowledge' }, 2 * MINUTE);
        if (chance(0.5)) tap(controller, { do: 'release', step: line.step }, 4 * MINUTE);
        else
          tap(controller, { do: 'override', step: line.step }, 4 * MINUTE, {
            reason: 'looked at it myself before',
          });
        when += 6 * MINUTE;
      } else say(`release ${step}`, 'plain', controller);
      wait();
    }
    index += 1;
  }
  return drafts;
};

/** @param plans the plans jobs are opened on, in turn */
export const makeDay = (seed: number, size: DaySize, plans: readonly Plan[]): Day => {
  const random = randomFrom(seed);
  const technicians = Array.from(
    { length: size.technicians },
    (_, index) => `${FIRST[index % FIRST.length]}${SECOND[Math.floor(index / FIRST.length)]}`,
  );
  const drafts: (Draft & { readonly of?: object })[] = [];
  for (let index = 0; index < size.jobs; index += 1) {
    const plan = plans[index % plans.length];
    const technician = technicians[index % technicians.length];
    const mate = technicians[(index + size.jobs) % technicians.length];
    const controller = CONTROLLERS[index % CONTROLLERS.length];
    if (!plan || !technician || !mate || !controller) throw new Error('Nobody is there.');
    const job = String(2_000 + index);
    const opened = OPENS + 60_000 + index * 95_000 + Math.floor(random() * 20_000);
    const where = plan.positions ? ' front left front right' : '';
    const text = `open job ${job} bus ${100 + index} ${plan.title}${where} tech ${technician}`;
    drafts.push({ when: opened, made: { does: 'open', job, by: controller, text }, key: {} });
    const budget =
      Math.floor(size.messages / size.jobs) + (index < size.messages % size.jobs ? 1 : 0);
    drafts.push(...threadOf(job, plan, budget, opened, technician, mate, controller, random));
  }
  // What the plans leave short of the count is talk in the first jobs' threads.
  const isPost = ({ made }: Draft): boolean => made.does === 'say' || made.does === 'open';
  for (let left = size.messages - drafts.filter(isPost).length; left > 0; left -= 1) {
    const index = left % size.jobs;
    const by = technicians[index % technicians.length] ?? '';
    const when = OPENS + 90 * MINUTE + random() * (CLOSES - OPENS - 120 * MINUTE);
    const made: Rough = {
      does: 'say',
      job: String(2_000 + index),
      by,
      text: pick(random, TALK),
      expected: 'plain',
    };
    drafts.push({ when, made, key: {} });
  }
  const moved = drafts.map((draft) => {
    const { from, to } = NO_TAPS;
    const isTap = draft.made.does === 'tap' && draft.when >= from && draft.when < to;
    return isTap ? { ...draft, when: draft.when - from + to } : draft;
  });
  const ordered = [...moved].sort((a, b) => a.when - b.when);
  const numbers = new Map(ordered.map(({ key }, n) => [key, n]));
  const happenings = ordered.map(
    ({ when, made, of }, n): Happening =>
      ({
        ...made,
        n,
        at: new Date(Math.floor(when)).toISOString(),
        ...(of ? { of: numbers.get(of) } : {}),
      }) as Happening,
  );
  const iso = (time: number): string => new Date(time).toISOString();
  return {
    size,
    start: iso(OPENS),
    end: iso(CLOSES + 3600_000),
    outage: { from: iso(OUTAGE.from), to: iso(OUTAGE.to) },
    technicians,
    controllers: [...CONTROLLERS],
    happenings,
  };
};
