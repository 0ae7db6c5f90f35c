// A workshop of another kind than the forecast believes in, to see whether its cautious figure holds there. It shares
// nothing with the forecast: its own calendar, its own way of working through a plan, and times that are skewed (log-
// normal), that go together on a slow job, that stretch on slow days, and that stand still when something is missing.
// Minutes are counted from a Monday at midnight, UTC; the numbers come from a generator of its own.

export type OtherStep = {
  readonly id: string;
  readonly o: number;
  readonly m: number;
  readonly p: number;
  readonly handsOff: number;
  readonly after: readonly string[];
};

export type OtherPlan = { readonly steps: readonly OtherStep[]; readonly truth: readonly number[] };

/** A job as it really went: when each step was done, and when it was begun. */
export type OtherJob = { readonly start: number; readonly doneAt: ReadonlyMap<string, number> };

export type Dice = () => number;

/** Park and Miller's generator, Comm. ACM 31 (1988) 1192, from memory. */
export const diceOf = (seed: number): Dice => {
  let state = (seed % 2_147_483_646) + 1;
  for (let n = 0; n < 20; n += 1) state = (state * 48_271) % 2_147_483_647;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
};

/** The sum of twelve even numbers less six: near enough to normal. */
const bell = (dice: Dice): number => {
  let sum = -6;
  for (let n = 0; n < 12; n += 1) sum += dice();
  return sum;
};

/** Monday to Friday 07:00 to 15:30 with a break from 12:00 to 12:30. */
const works = (minute: number): boolean => {
  const day = Math.floor(minute / 1440) % 7;
  const ofDay = minute % 1440;
  return day < 5 && ofDay >= 420 && ofDay < 930 && !(ofDay >= 720 && ofDay < 750);
};

/**
 * A plan of 12 to 36 steps. The planner knows each step's usual time with an error of their own that past jobs share,
 * puts the best a good third below it and the worst well above: not the curve the work follows.
 */
export const otherPlan = (dice: Dice): OtherPlan => {
  const count = 12 + Math.floor(dice() * 25);
  const truth: number[] = [];
  const steps = Array.from({ length: count }, (_, n): OtherStep => {
    const usual = 6 * Math.exp(1.1 * dice() + 0.6 * bell(dice));
    truth.push(usual);
    const m = usual * Math.exp(0.25 * bell(dice) - 0.05);
    const before = [n - 1, n - 1 - Math.floor(dice() * 3)].filter((b) => b >= 0 && dice() < 0.8);
    return {
      id: `s${n}`,
      o: m * (0.55 + 0.2 * dice()),
      m,
      p: m * (1.5 + 0.8 * dice()),
      handsOff: dice() < 0.1 ? 20 + 70 * dice() : 0,
      after: [...new Set(before)].map((b) => `s${b}`),
    };
  });
  return { steps, truth };
};

/** Works through a plan minute by minute: one technician, the first step that is free. */
export const workThrough = ({ steps, truth }: OtherPlan, from: number, dice: Dice): OtherJob => {
  const slow = Math.exp(0.2 * bell(dice));
  const need = steps.map((_, n) => (truth[n] ?? 0) * slow * Math.exp(0.4 * bell(dice)));
  // A step in twenty-five stands still for something that is missing: an hour or two, now and then until the next day.
  const stands = steps.map(() => (dice() < 0.04 ? -Math.log(dice() + 1e-9) * 90 : 0));
  const doneAt = new Map<string, number>();
  const slowDays = new Map<number, number>();
  const speedOn = (day: number): number => {
    const known = slowDays.get(day);
    if (known !== undefined) return known;
    const made = dice() < 0.12 ? 0.6 : 1;
    slowDays.set(day, made);
    return made;
  };
  const left = new Set(steps.keys());
  let minute = from;
  let start = -1;
  let inHand: number | undefined;
  while (left.size > 0) {
    if (works(minute)) {
      inHand ??= [...left].find((n) =>
        (steps[n]?.after ?? []).every(
          (id) => (doneAt.get(id) ?? Number.POSITIVE_INFINITY) <= minute,
        ),
      );
      if (inHand !== undefined) {
        if (start < 0) start = minute;
        const standing = stands[inHand] ?? 0;
        if (standing > 0) stands[inHand] = standing - 1;
        else need[inHand] = (need[inHand] ?? 0) - speedOn(Math.floor(minute / 1440));
        if ((need[inHand] ?? 0) <= 0) {
          const step = steps[inHand];
          if (step) doneAt.set(step.id, minute + 1 + step.handsOff);
          left.delete(inHand);
          inHand = undefined;
        }
      }
    }
    minute += 1;
  }
  return { start, doneAt };
};
