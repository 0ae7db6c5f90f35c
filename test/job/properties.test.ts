// What must hold for any job, tried on random ones.
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import type { JobEvent } from '../../shared/event.ts';
import { flagKey } from '../../shared/flag.ts';
import type { Act } from '../../shared/reading.ts';
import { check } from '../../src/job/check.ts';
import type { JobView } from '../../src/job/view.ts';
import {
  act,
  at,
  cyl,
  deletes,
  edits,
  eventsOf,
  opened,
  overrides,
  planOf,
  releases,
  SIX,
  says,
} from './story.ts';

const RUNS = { numRuns: 150, seed: 20260512 };

const plan = planOf(
  [
    { id: 'chock', weight: 'safety-critical' },
    {
      id: 'drain',
      after: ['chock'],
      weight: 'damage-critical',
      opens: ['coolant-out'],
      report: [{ kind: 'drained', fluid: 'coolant', min: 20, max: 40 }],
    },
    { id: 'pull', each: 'cylinders', after: ['drain'], opens: ['bores-open'], undoes: ['clamp'] },
    { id: 'look', each: 'cylinders', after: ['pull'], hold: { release: ['controller'] } },
    {
      id: 'clamp',
      each: 'cylinders',
      after: ['look'],
      weight: 'safety-critical',
      closes: ['bores-open'],
      report: [{ kind: 'tightening', of: 'bolts', stages: [{ torque: 20 }, { angle: 90 }] }],
    },
    { id: 'second', after: ['clamp'], check: ['clamp'] },
    {
      id: 'fill',
      after: ['clamp'],
      closes: ['coolant-out'],
      report: [{ kind: 'filled', fluid: 'coolant' }],
      waits: [{ after: 'clamp', minutes: 20, because: 'it settles' }],
    },
    { id: 'start', after: ['fill', 'second'], 'not-while': ['coolant-out', 'bores-open'] },
  ],
  {
    positions: SIX,
    fluids: { coolant: { title: 'coolant' } },
    states: { 'coolant-out': { title: 'Coolant out' }, 'bores-open': { title: 'Bores open' } },
  },
);
const STEPS = plan.steps.map(({ id }) => id);
const EACH = new Set(plan.steps.filter(({ each }) => each !== undefined).map(({ id }) => id));

const minute = fc.integer({ min: 0, max: 400 });
const clock = (minutes: number): string =>
  `${String(8 + Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
const timeOf = minute.map((minutes) => at(clock(minutes)));

const anAct = (rework: boolean): fc.Arbitrary<Act> =>
  fc
    .record({
      kind: fc.constantFrom(
        ...([
          'done',
          'done',
          'done',
          'done',
          'started',
          'partial',
          'not-done',
          'retracts',
          'intends',
        ] as const),
      ),
      step: fc.constantFrom(...STEPS),
      positions: fc.subarray(cyl(1, 2), { minLength: 1 }),
      volume: fc.constantFrom(5, 20, 28),
      stage: fc.constantFrom(1, 2, undefined),
      time: fc.option(timeOf, { nil: undefined, freq: 4 }),
      again: fc.constantFrom(...(rework ? [false, false, true] : [false])),
    })
    .map(({ kind, step, positions, volume, stage, time, again }) =>
      act(
        kind,
        step,
        {
          ...((step === 'drain' || step === 'fill') && { quantity: { value: volume, unit: 'L' } }),
          ...(step === 'clamp' && stage !== undefined && { stage }),
          ...(time !== undefined && { time }),
          ...(again && { again }),
        },
        EACH.has(step) ? positions : [],
      ),
    );

/** A job of two cylinders: messages, some edited or deleted, releases and overrides. */
const someJob = ({ rework = true, plain = false } = {}): fc.Arbitrary<JobEvent[]> =>
  fc
    .record({
      messages: fc.array(
        fc.record({
          minutes: minute,
          by: fc.constantFrom('Tom', 'Ana'),
          acts: fc.array(anAct(rework), { minLength: 1, maxLength: 2 }),
          edit: fc.option(
            fc.record({ after: minute, acts: fc.array(anAct(rework), { maxLength: 2 }) }),
            { nil: undefined, freq: 4 },
          ),
          gone: fc.option(minute, { nil: undefined, freq: 6 }),
        }),
        { minLength: 1, maxLength: 14 },
      ),
      releases: fc.array(fc.tuple(minute, fc.constantFrom(...cyl(1, 2))), { maxLength: 3 }),
      overrides: fc.array(
        fc.tuple(
          minute,
          fc.constantFrom(
            'skipped|chock||',
            'skipped|drain||',
            'not-released|look|cylinder 1|',
            'same-hands|second||',
            'unsafe-state|start||',
          ),
        ),
        { maxLength: 2 },
      ),
    })
    .map(({ messages, releases: released, overrides: over }) =>
      eventsOf([
        opened({ positions: cyl(1, 2) }),
        messages.map(({ minutes, by, acts, edit, gone }, index) => [
          says(`m${index}`, clock(minutes), by, acts),
          edit === undefined
            ? []
            : edits(`m${index}`, clock(Math.max(minutes, edit.after)), edit.acts),
          gone === undefined || plain ? [] : deletes(`m${index}`, clock(gone)),
        ]),
        released.map(([minutes, position], index) => ({
          ...releases('look', clock(minutes), 'Sam', position),
          id: `release ${index}`,
        })),
        plain
          ? []
          : over.map(([minutes, flag], index) => ({
              ...overrides(flag, clock(minutes)),
              id: `override ${index}`,
            })),
      ]),
    );

const NOW = at('18:00');
const look = (events: readonly JobEvent[]): JobView => check(plan, events, NOW);

/** Asks everything the checker wants to know and answers it with the first choice. */
function answered(events: readonly JobEvent[]): JobEvent[] {
  return look(events).wants.flatMap(({ question, message, about, asks, choices }) => [
    {
      id: `asked ${question}`,
      at: at('16:00'),
      by: 'chargehand',
      kind: 'question-asked' as const,
      question,
      message,
      asks,
      about,
      choices,
    },
    {
      id: `answered ${question}`,
      at: at('16:10'),
      by: 'Tom',
      kind: 'question-answered' as const,
      question,
      choice: choices.length > 0 ? 0 : null,
    },
  ]);
}

/** The view as one text, without what stands for the plan and the log. */
const written = ({
  plan: _plan,
  positions,
  lastEventAt: _last,
  opened: _opened,
  ...view
}: JobView): string => JSON.stringify({ ...view, positions: [...positions] });

const standing = (view: JobView, rule: string): string[] =>
  view.flags.filter((flag) => flag.rule === rule && flag.clearedBy === undefined).map(flagKey);

describe('for any job', () => {
  it('any order of arrival of the same events gives the same view', () => {
    fc.assert(
      fc.property(someJob(), fc.infiniteStream(fc.nat()), (events, dice) => {
        const all = [...events, ...answered(events)];
        const shuffled = all
          .map((event) => ({ event, at: dice.next().value }))
          .sort((a, b) => a.at - b.at)
          .map(({ event }) => event);
        expect(written(look(shuffled))).toBe(written(look(all)));
      }),
      RUNS,
    );
  });

  it('a doubled delivery changes nothing', () => {
    fc.assert(
      fc.property(someJob(), fc.nat(), (events, which) => {
        const again = events[which % events.length];
        const copy = JSON.parse(JSON.stringify(again)) as JobEvent;
        expect(written(look([...events, copy]))).toBe(written(look(events)));
      }),
      RUNS,
    );
  });

  it('deleting a message equals its never having been sent', () => {
    fc.assert(
      fc.property(someJob({ plain: true }), fc.nat(), (events, which) => {
        const posted = events.filter((event) => event.kind === 'message-posted');
        const message = posted[which % posted.length]?.message ?? '';
        const without = events.filter(
          (event) => !('message' in event) || event.message !== message,
        );
        expect(written(look([...events, deletes(message, '17:00')]))).toBe(written(look(without)));
      }),
      RUNS,
    );
  });

  it('adding a missing report never adds a skipped', () => {
    fc.assert(
      fc.property(someJob({ rework: false }), fc.nat(), fc.boolean(), (events, which, timed) => {
        const before = look(events);
        const missing = before.flags.filter(
          (flag) => flag.rule === 'skipped' && flag.clearedBy === undefined,
        );
        const flag = missing[which % missing.length];
        if (flag?.step == null) return;
        const step = flag.step;
        const position = flag.position === null ? [] : [flag.position];
        // The time said is that of the report that raised it: just in time.
        const raiser = before.reports.find(({ message }) => message === flag.raisedBy[0]);
        const time = timed && raiser ? { time: raiser.when } : {};
        const acts =
          step === 'clamp'
            ? [
                act('done', step, { stage: 1, ...time }, position),
                act('done', step, { stage: 2, ...time }, position),
              ]
            : [
                act(
                  'done',
                  step,
                  {
                    ...(step === 'drain' || step === 'fill'
                      ? { quantity: { value: 28, unit: 'L' } }
                      : {}),
                    ...time,
                  },
                  position,
                ),
              ];
        // Posted last and by somebody new, so that it is the missing report and nothing else.
        const after = look([...events, ...says('late', '15:59', 'Kim', acts)]);
        const known = new Set(before.flags.filter(({ rule }) => rule === 'skipped').map(flagKey));
        expect(standing(after, 'skipped').filter((key) => !known.has(key))).toEqual([]);
      }),
      { ...RUNS, numRuns: 400 },
    );
  });

  it('a withdrawn flag comes back when its report is withdrawn', () => {
    let seen = 0;
    fc.assert(
      fc.property(someJob({ plain: true, rework: false }), (events) => {
        const all = [...events, ...answered(events)];
        for (const flag of look(all).flags) {
          if (flag.how !== 'withdrawn' || flag.rule !== 'skipped') continue;
          const [report] = flag.clearedBy ?? [];
          if (report === undefined || flag.raisedBy.includes(report)) continue;
          const after = look([...all, deletes(report, '17:00')]).flags.find(
            (one) => flagKey(one) === flagKey(flag),
          );
          seen += 1;
          expect(after, 'the flag is there').toBeDefined();
          expect(after?.clearedBy ?? [], 'and not cleared by what is gone').not.toContain(report);
        }
      }),
      { ...RUNS, numRuns: 400 },
    );
    expect(seen).toBeGreaterThan(20);
  });

  it('an open vehicle state is never overridden, and keeps the job open', () => {
    fc.assert(
      fc.property(someJob(), (events) => {
        const view = look(events);
        expect(
          view.flags.filter((flag) => flag.rule === 'unsafe-state' && flag.how === 'overridden'),
        ).toEqual([]);
        if (view.vehicleState.length > 0) expect(view.closeNeeds).not.toEqual([]);
      }),
      RUNS,
    );
  });
});

describe('in any time zone of the machine', () => {
  const zone = process.env.TZ;
  afterAll(() => {
    process.env.TZ = zone;
  });
  it('the same events give the same view', () => {
    fc.assert(
      fc.property(someJob(), (events) => {
        const views = ['UTC', 'America/St_Johns', 'Pacific/Chatham'].map((name) => {
          process.env.TZ = name;
          return written(look(events));
        });
        expect(new Set(views).size).toBe(1);
      }),
      { ...RUNS, numRuns: 30 },
    );
  });
});
