// What stands in the record is worked out by hand from the events of test/report/story.ts.
import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { JobRecord } from '../../shared/record.ts';
import { replayDemo } from '../../src/cli/demo.ts';
import { jobRecord } from '../../src/report/job-record.ts';
import { at, deletes, done, edits, says } from '../job/story.ts';
import { END, OPTIONS, PHOTO, PLAN, SOURCE, viewOf, WORK } from './story.ts';

const record = jobRecord(viewOf(WORK), WORK, OPTIONS);

const isSkipped = ({ rule, step }: { rule: string; step: string | null }): boolean =>
  rule === 'skipped' && step === 'drain';

describe('the record of a job', () => {
  it('has the form of shared/record.ts', () => {
    expect(JobRecord.safeParse(record).error?.issues ?? []).toEqual([]);
    expect(JobRecord.safeParse({ ...record, colour: 'red' }).success).toBe(false);
  });

  it('has the form of the JSON Schema too, by a validator that knows nothing of zod', () => {
    const schema = JSON.parse(
      readFileSync(new URL('../../shared/json/job-record.schema.json', import.meta.url), 'utf8'),
    );
    const valid = new Ajv({ strict: false, formats: { 'date-time': true } }).compile(schema);
    expect(valid(JSON.parse(JSON.stringify(record))), JSON.stringify(valid.errors)).toBe(true);
    expect(valid({ ...record, version: 2 })).toBe(false);
  });

  it.each(['1042', '1043'])('has that form for job %s of the demonstration shift', async (job) => {
    const found = (await replayDemo()).find((one) => one.job.job === job);
    const { view, result } = found?.replayed ?? { view: viewOf(WORK), result: { events: [] } };
    const made = jobRecord(view, result.events, OPTIONS);
    expect(JobRecord.safeParse(JSON.parse(JSON.stringify(made))).error?.issues ?? []).toEqual([]);
    expect(made.job.number).toBe(job);
    expect(made.messages).toHaveLength(found?.job.transcript.length ?? -1);
  });

  it('is the same whatever the order of the events, and when one comes twice', () => {
    const mixed = [...WORK].reverse().concat(WORK.slice(3, 6));
    expect(jobRecord(viewOf(mixed), mixed, OPTIONS)).toEqual(record);
  });

  it('says whose job it is', () => {
    expect(record.job).toMatchObject({
      number: '1042',
      status: 'open',
      vehicle: { name: 'Bus 7', vin: null },
      complaint: 'Misfire on cylinder 3',
      openedBy: 'Wen',
      readings: [{ when: 'opened', value: 412350, unit: 'km' }],
      positions: [{ set: 'cylinders', names: ['cylinder 1', 'cylinder 3'] }],
    });
    expect(record.people).toContainEqual({
      name: 'Ade',
      did: ['posted', 'work', 'independent check'],
    });
  });

  it('names the plan by its hash, with its notice', () => {
    expect(record.plan).toMatchObject({
      id: 'test-plan',
      hash: PLAN.hash,
      openedWith: PLAN.hash,
      notice: 'Demonstration values.',
      moved: [],
    });
  });

  it('has each figure with its limit, the source of it, and whether it was said', () => {
    expect(record.figures.filter(({ step }) => step === 'drain')).toEqual([
      {
        step: 'drain',
        title: 'Drain the coolant',
        position: null,
        at: at('06:50'),
        by: 'Sam',
        of: 'coolant drained',
        measured: { value: 28, unit: 'L' },
        limit: { min: 25, max: 30, unit: 'L', source: SOURCE },
        within: true,
        assumed: false,
        message: 'm6',
      },
    ]);
    // Stage 2 of cylinder 1 was reported without its angle: the plan's 90 degrees stand for it.
    const assumed = record.figures.filter((figure) => figure.assumed);
    expect(assumed.map(({ step, position, measured }) => [step, position, measured.value])).toEqual(
      [['fit', 'cylinder 1', 90]],
    );
  });

  it('has the tightening stage by stage, planned beside said', () => {
    const [first, third] = record.tightening;
    expect(first).toMatchObject({
      of: 'clamp bolts',
      fasteners: 2,
      pattern: 'opposite',
      paintMark: true,
    });
    expect(third?.paintMark).toBe(false);
    // 20 N.m give or take 10 per cent is 18 to 22; 90 degrees give or take the usual 5 is 85 to 95.
    expect(first?.stages[0]).toEqual({
      stage: 1,
      torque: { planned: 20, min: 18, max: 22, unit: 'N.m', source: SOURCE },
      angle: null,
      done: true,
      said: [{ measured: { value: 20, unit: 'N.m' }, within: true, assumed: false }],
      at: at('08:00'),
      by: 'Sam',
      tool: null,
    });
    expect(first?.stages[1]).toMatchObject({
      angle: { planned: 90, min: 85, max: 95 },
      said: [{ assumed: true }],
      tool: 'AG-01',
      at: at('08:20'),
    });
    expect(third?.stages[1]?.said).toEqual([
      { measured: { value: 110, unit: 'deg' }, within: false, assumed: false },
    ]);
  });

  it('leaves a stage open that nobody reported', () => {
    const until = WORK.slice(0, WORK.findIndex(({ id }) => id === 'w2') + 1);
    const [first] = jobRecord(viewOf(until), until, OPTIONS).tightening;
    expect(first?.stages.map(({ stage, done: isDone, at: when }) => [stage, isDone, when])).toEqual(
      [
        [1, true, at('08:00')],
        [2, false, null],
      ],
    );
  });

  it('has every report that stands by the time of the work, with who did it and who posted it', () => {
    expect(
      record.reports
        .slice(0, 2)
        .map(({ message, at: when, timeSaid, posted }) => [message, when, timeSaid, posted]),
    ).toEqual([
      ['m6', at('06:50'), true, at('08:50')],
      ['m1', at('07:10'), false, at('07:10')],
    ]);
    // m1, two codes in m2, one for both cylinders in m3, two in m4, m6, two in m7, two in m8, m9, m10.
    expect(record.reports).toHaveLength(13);
  });

  it('tells the doer from the poster', () => {
    const events = [
      ...WORK,
      ...says('m21', '09:55', 'Ade', [
        done('drain', { by: 'Sam', again: true, quantity: { value: 2, unit: 'L' } }),
      ]),
    ];
    const last = jobRecord(viewOf(events), events, OPTIONS).reports.at(-1);
    expect([last?.by, last?.reportedBy]).toEqual(['Sam', 'Ade']);
  });

  it('sets codes read against codes entered; blanks and small letters make no other code', () => {
    expect(
      record.codes.map(({ position, read, entered, agree }) => [
        position,
        read?.code,
        entered?.code,
        agree,
      ]),
    ).toEqual([
      ['cylinder 1', '4M2XPT', '4m2 xpt', true],
      ['cylinder 3', 'B8TW4N', 'B8TW4M', false],
    ]);
  });

  it('balances what was drained against what was filled', () => {
    // 28 - 26.5 = 1.5; the larger of 1 L and 5 % of 28 L (1.4 L) may be missing.
    expect(record.fluids).toEqual([
      {
        fluid: 'coolant',
        title: 'coolant',
        drained: 28,
        filled: 26.5,
        unaccounted: 1.5,
        unit: 'L',
        allowed: 1.4,
        balanced: false,
      },
    ]);
  });

  it('has each clearance with its own source', () => {
    expect(
      record.clearances.map(({ position, measured, within, source }) => [
        position,
        measured.value,
        within,
        source,
      ]),
    ).toEqual([
      ['cylinder 1', 0.3, true, 'the plate on the demonstration engine'],
      ['cylinder 3', 0.37, false, 'the plate on the demonstration engine'],
    ]);
  });

  it('says what became of the trouble codes only once they were read after the work', () => {
    expect(record.troubleCodes).toMatchObject({ after: [], gone: [], still: [], fresh: [] });
    const events = [
      ...WORK,
      ...says('m20', '11:00', 'Sam', [done('recheck-faults', { code: '100/1' })]),
    ];
    const { before, after, gone, still, fresh } = jobRecord(
      viewOf(events),
      events,
      OPTIONS,
    ).troubleCodes;
    expect(before.map(({ codes }) => codes)).toEqual([['SPN 653 FMI 5']]);
    expect(after.map(({ codes }) => codes)).toEqual([['SPN 100 FMI 1']]);
    expect([gone, still, fresh]).toEqual([['SPN 653 FMI 5'], [], ['SPN 100 FMI 1']]);
  });

  it('tells which parts were said to be new', () => {
    expect(
      record.parts.map(({ part, position, count, saidNew }) => [
        part,
        position,
        count,
        saidNew?.message,
      ]),
    ).toEqual([
      ['sealing washer', 'cylinder 1', 2, 'm3'],
      ['sealing washer', 'cylinder 3', 2, 'm3'],
    ]);
  });

  it('names photos by their hash', () => {
    expect(record.photos).toMatchObject([
      { name: 'sleeve.jpg', sha256: PHOTO, message: 'm5', bytes: 20480 },
    ]);
  });

  it('shows a flag with the override that settled it, by whom and why', () => {
    const until = WORK.slice(0, WORK.findIndex(({ id }) => id === 'w2') + 1);
    const then = jobRecord(viewOf(until), until, OPTIONS);
    expect(then.flags.find(isSkipped)).toMatchObject({
      level: 'caution',
      announcedAt: at('08:00:20'),
      state: 'overridden',
      settledByWho: 'Wen',
      settledAt: at('08:06'),
      reason: 'drained on the night shift, I saw the container',
      acknowledged: [{ at: at('08:05'), by: 'Wen' }],
    });
    expect(record.overrides).toEqual([
      {
        flag: 'skipped|drain||',
        at: at('08:06'),
        by: 'Wen',
        reason: 'drained on the night shift, I saw the container',
      },
    ]);
  });

  it('shows a flag as withdrawn once the missing report is there, and the override all the same', () => {
    expect(record.flags.find(isSkipped)).toMatchObject({
      state: 'withdrawn',
      settledBy: ['m6'],
      settledByWho: 'Sam',
      settledAt: at('08:50'),
      reason: null,
    });
    expect(record.overrides).toHaveLength(1);
  });

  it('keeps a flag that was said in the open though this job alone does not raise it', () => {
    const events = [
      ...WORK,
      {
        id: 'back',
        at: at('07:00:05'),
        by: 'chargehand',
        kind: 'flag-announced' as const,
        flag: 'back-again|||1017',
        level: 'advice',
        says: 'Back again: job 1017 was for the same work.',
      },
    ];
    expect(jobRecord(viewOf(events), events, OPTIONS).flags.at(-1)).toMatchObject({
      rule: 'back-again',
      part: '1017',
      state: 'open',
      says: 'Back again: job 1017 was for the same work.',
    });
  });

  it('has releases, findings and questions with who settled them', () => {
    expect(record.holds).toEqual([
      {
        step: 'look-over',
        title: 'Second person looks at the clamps',
        position: null,
        decision: 'released',
        at: at('09:35'),
        by: 'Wen',
        role: 'controller',
        reason: null,
        counts: true,
      },
    ]);
    expect(record.findings).toMatchObject([
      {
        says: 'sleeve cracked at cylinder 3',
        by: 'Sam',
        state: 'approved',
        decidedBy: 'Wen',
        reason: 'new sleeve is in the stores',
      },
    ]);
    expect(record.questions).toMatchObject([
      {
        asks: 'Which cylinder?',
        state: 'answered',
        answer: 'cylinder 3',
        answeredBy: 'Ade',
        answeredAt: at('09:42'),
      },
    ]);
  });

  it('keeps a refusal that a later release took the place of', () => {
    const refused = {
      id: 'h0',
      at: at('09:33'),
      by: 'Wen',
      kind: 'hold-refused' as const,
      step: 'look-over',
      position: null,
      role: 'controller',
      reason: 'clamp 3 sits askew',
    };
    const events = [...WORK, refused];
    expect(
      jobRecord(viewOf(events), events, OPTIONS).holds.map(({ decision, reason, counts }) => [
        decision,
        reason,
        counts,
      ]),
    ).toEqual([
      ['refused', 'clamp 3 sits askew', false],
      ['released', null, true],
    ]);
  });

  it('names the independent check, and no closing while the job is open', () => {
    expect(record.signOff).toMatchObject({
      checks: [{ step: 'look-over', at: at('09:30'), by: 'Ade' }],
      closed: null,
      roadRelease: null,
    });
    expect(record.stillNeeded.length).toBeGreaterThan(0);
  });

  it('has sign-off and readings of a closed job', () => {
    const events = [
      ...WORK,
      { id: 'r1', at: at('11:30'), by: 'Wen', kind: 'road-released' as const, role: 'controller' },
      {
        id: 'c1',
        at: at('11:40'),
        by: 'Wen',
        kind: 'job-closed' as const,
        reading: { value: 412362, unit: 'km' as const },
      },
    ];
    const closed = jobRecord(viewOf(events), events, OPTIONS);
    expect(closed.signOff).toMatchObject({
      closed: { at: at('11:40'), by: 'Wen' },
      roadRelease: { at: at('11:30'), by: 'Wen', role: 'controller' },
    });
    expect(closed.job.readings.map(({ value }) => value)).toEqual([412350, 412362]);
    expect(closed.stillNeeded).toEqual([]);
  });

  it('keeps the place of a deleted message and drops its words and its report', () => {
    const events = [...WORK, ...edits('m11', '09:45', []), deletes('m9', '09:50')];
    const { messages, fluids } = jobRecord(viewOf(events), events, OPTIONS);
    expect(messages.find(({ message }) => message === 'm9')).toMatchObject({
      text: null,
      deleted: true,
    });
    expect(messages.find(({ message }) => message === 'm11')).toMatchObject({
      text: 'words of m11, edited 1',
      edited: 1,
    });
    expect(fluids).toMatchObject([{ drained: 28, filled: 0, balanced: null }]);
  });

  it('leaves booked minutes out where they may not be shown', () => {
    const { hours: _, ...rest } = OPTIONS;
    expect(jobRecord(viewOf(WORK), WORK, rest)).not.toHaveProperty('minutes');
    // (5+20+5)/6 = 5; (10+80+60)/6 = 25; two clamps of (4+24+8)/6 = 6 each: 5 + 25 + 12.
    expect(record.minutes).toEqual({ booked: 0, planned: 42 });
  });

  it('ends in the chain', () => {
    expect(record.chain).toMatchObject({ events: WORK.length, end: END });
    expect(record.chain.proves).toContain(`event ${WORK.length} still carries it`);
    const without = jobRecord(viewOf(WORK), WORK, { ...OPTIONS, chainEnd: null });
    expect(without.chain.proves).toContain('nothing ties this record');
  });
});
