// Deliveries on the floor: doubled, unknown, forged, between restarts, with a channel that fails.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  floorOn,
  keepingChannel,
  message,
  OPEN,
  START,
  type TestFloor,
  tap,
  temporaryFolder,
} from './workshop-floor.ts';

let folder: string;
let remove: () => Promise<void>;
const running: TestFloor[] = [];
beforeEach(async () => {
  ({ folder, remove } = await temporaryFolder());
});
afterEach(async () => {
  for (const floor of running.splice(0)) await floor.running.stop();
  await remove();
});

const begin = async (keeping = [keepingChannel()]) => {
  const floor = await floorOn(folder, keeping);
  running.push(floor);
  const [bench = keepingChannel()] = keeping;
  const take = async (
    ...deliveries: Parameters<ReturnType<typeof bench.intake>['accept']>
  ): Promise<string> => {
    const answer = await bench.intake().accept(...deliveries);
    await floor.calm();
    return answer;
  };
  const open = async (): Promise<string> => {
    await take(message('open', 'Robin', OPEN));
    const thread = (await floor.running.floor.shelved('1042'))?.threads[0]?.thread;
    if (!thread)
      throw new Error(
        `The job was not opened: ${bench.texts().join(' / ')} ${JSON.stringify(floor.logged)}`,
      );
    return thread;
  };
  const events = async () =>
    (await floor.store.load('1042'))?.events.map(({ event }) => event) ?? [];
  return { floor, bench, take, open, events };
};

describe('opening and posting', () => {
  it('a job opened by message has one sheet, pinned as the root of its thread, and its message is signed', async () => {
    const { bench, open } = await begin();
    const thread = await open();
    expect(bench.posted.map(({ id }) => id)).toEqual([thread]);
    expect(bench.posted[0]?.card.text).toContain('Job 1042 · bus 17');
    expect(bench.signs).toEqual([{ message: 'open', mark: 'recorded' }]);
  });

  it('the same number again is refused with what to do, and nothing of the first job changes', async () => {
    const { bench, take, open, events } = await begin();
    await open();
    const before = await events();
    await take(message('again', 'Robin', OPEN));
    expect(bench.texts().at(-1)).toContain('Job 1042 is there already. Use another number.');
    expect(await events()).toEqual(before);
  });

  it('a job with something missing is not opened but asked for, with the form filled with what was said', async () => {
    const { bench, take, floor } = await begin();
    await take(message('open', 'Robin', 'open job 77 bus 3'));
    const card = bench.posted[0]?.card;
    expect(card?.text).toContain('The job is not open yet.');
    const form = card?.actions?.[0]?.form;
    expect(form?.fields.find((field) => field.name === 'job')?.value).toBe('77');
    expect(form?.fields.find((field) => field.name === 'vehicle')?.value).toBe('bus 3');
    expect(await floor.running.floor.openJobs()).toEqual([]);
  });

  it('a remark at the opening is said in the thread, behind the sheet', async () => {
    const { bench, take, floor } = await begin();
    // The check digit of this number should be X: see test/trade/vin.test.ts.
    await take(message('open', 'Robin', `${OPEN} vin 1M8GDM9A9KP042788`));
    expect(bench.texts()[0]).toContain('Job 1042');
    expect(bench.texts().length).toBe(2);
    expect(floor.running.backlog()).toBe(0);
  });

  it('a job is opened with the form', async () => {
    const { take, floor } = await begin();
    await take(
      tap('form', 'Robin', JSON.stringify({ do: 'open-job' }), {
        job: '88',
        vehicle: 'coach 2',
        plan: 'coolant-pump',
        reading: '287,904 km',
        technician: 'Mo',
        promised: '2026-03-12T14:00:00+00:00',
        complaint: 'losing coolant',
      }),
    );
    expect(
      (await floor.running.floor.openJobs()).map(({ job, vehicle, technician }) => ({
        job,
        vehicle,
        technician,
      })),
    ).toEqual([{ job: '88', vehicle: 'coach 2', technician: 'Mo' }]);
    const opened = (await floor.store.load('88'))?.events[0]?.event;
    expect(opened).toMatchObject({
      kind: 'job-opened',
      reading: { value: 287904, unit: 'km' },
      complaint: 'losing coolant',
    });
  });
});

describe('messages', () => {
  it('a doubled delivery changes nothing', async () => {
    const { take, open, events } = await begin();
    const thread = await open();
    const said = message('m1', 'Ada', 'drained 26 L of coolant', { thread });
    expect(await take(said)).toBe('new');
    const once = await events();
    expect(await take(said)).toBe('seen');
    expect(await events()).toEqual(once);
  });

  it('a message outside a thread goes to the only open job of its technician', async () => {
    const { take, open, events } = await begin();
    await open();
    await take(message('m1', 'Ada', 'drained 26 L of coolant'));
    expect(
      (await events()).some(
        (event) => event.kind === 'message-posted' && event.text === 'drained 26 L of coolant',
      ),
    ).toBe(true);
  });

  it('talk outside a thread is not kept', async () => {
    const { take, open, events, bench } = await begin();
    await open();
    const before = await events();
    const said = bench.texts().length;
    await take(message('m1', 'Ada', 'did you see the match last night'));
    expect(await events()).toEqual(before);
    expect(bench.texts().length).toBe(said);
  });

  it('with two open jobs it asks which, and the tap puts the message there', async () => {
    const { take, open, events, bench } = await begin();
    await open();
    await take(message('open2', 'Robin', 'open job 1043 bus 18 coolant pump tech Ada'));
    await take(message('m1', 'Ada', 'drained 26 L of coolant'));
    const card = bench.posted.at(-1)?.card;
    expect(card?.text).toContain('Which job');
    const choice = card?.actions?.find((action) => action.label.startsWith('1042'));
    await take(tap('tap', 'Ada', JSON.stringify(choice?.intent)));
    expect(
      (await events()).some(
        (event) => event.kind === 'message-posted' && event.text === 'drained 26 L of coolant',
      ),
    ).toBe(true);
  });

  it('a number in front names the job', async () => {
    const { take, open, events } = await begin();
    await open();
    await take(message('open2', 'Robin', 'open job 1043 bus 18 coolant pump tech Ada'));
    await take(message('m1', 'Mo', '#1042 drained 26 L of coolant'));
    expect(
      (await events()).some((event) => event.kind === 'message-posted' && event.by === 'Mo'),
    ).toBe(true);
  });

  it('somebody who is not in the settings is told so, and nothing is recorded', async () => {
    const { take, open, events, bench } = await begin();
    const thread = await open();
    const before = await events();
    await take(message('m1', 'Stranger', 'drained 26 L of coolant', { thread }));
    expect(bench.texts().at(-1)).toContain(
      '"Stranger" is not in the workshop\'s settings, so nothing was recorded.',
    );
    expect(await events()).toEqual(before);
  });

  it('times in the record carry the offset of the workshop', async () => {
    const { take, open, events } = await begin();
    const thread = await open();
    // 10 July: British Summer Time, an hour ahead of UTC.
    await take(
      message('m1', 'Ada', 'drained 26 L of coolant', { thread, at: '2026-07-10T07:00:00.000Z' }),
    );
    const posted = (await events()).find((event) => event.kind === 'message-posted');
    expect(posted?.at).toBe('2026-07-10T08:00:00.000+01:00');
  });
});

describe('taps', () => {
  it.each([
    ['no JSON', 'release'],
    ['another shape', JSON.stringify({ do: 'release', job: '1042' })],
    ['a key too many', JSON.stringify({ do: 'close-job', job: '1042', force: true })],
  ])('%s is answered and records nothing', async (_what, intent) => {
    const { take, open, events, bench } = await begin();
    await open();
    const before = await events();
    await take(tap('tap', 'Robin', intent));
    expect(bench.texts().at(-1)).toContain('not understood');
    expect(await events()).toEqual(before);
  });

  it('a technician who taps a button of the controller is told, whatever the card showed', async () => {
    const { take, open, events } = await begin();
    const thread = await open();
    await take(message('m1', 'Ada', 'drained 26 L of coolant', { thread }));
    await take(
      tap(
        'tap',
        'Ada',
        JSON.stringify({ do: 'override', job: '1042', flag: 'skipped|let-cool||' }),
        { reason: 'because' },
      ),
    );
    expect((await events()).some((event) => event.kind === 'flag-overridden')).toBe(false);
  });

  it('an unknown job is named', async () => {
    const { take, bench } = await begin();
    await take(tap('tap', 'Robin', JSON.stringify({ do: 'close-job', job: '../../etc' })));
    expect(bench.texts().at(-1)).toContain('is not known');
  });
});

describe('between a stop and a start', () => {
  it('a delivery that was accepted and not worked off is worked off at the next start', async () => {
    const first = await begin();
    const thread = await first.open();
    await first.floor.running.stop();
    running.splice(0);
    // Kept by the store as a channel would, with no floor behind it.
    const { jobFileStore } = await import('../../src/store/job-file-store.ts');
    const store = jobFileStore(folder, { clock: () => START });
    await store.open();
    await store.accept(message('m1', 'Ada', 'drained 26 L of coolant', { thread }), START);
    await store.close();

    const { floor, events } = await begin();
    await floor.calm();
    expect((await events()).filter((event) => event.kind === 'message-posted').length).toBe(1);
    expect(await floor.store.waiting()).toEqual([]);
  });

  it('what was still to be posted is posted after the start, once', async () => {
    const bench = keepingChannel();
    const first = await begin([bench]);
    const thread = await first.open();
    bench.failures.push(
      ...Array.from({ length: 3 }, () => ({
        ok: false as const,
        failure: { kind: 'wait' as const, seconds: 3600 },
      })),
    );
    await first.bench.intake().accept(message('m1', 'Ada', 'what next', { thread }));
    await first.floor.running.idle();
    for (let looks = 0; looks < 50 && bench.failures.length === 3; looks += 1)
      await new Promise((done) => setTimeout(done, 5));
    await first.floor.running.stop();
    running.splice(0);

    const after = keepingChannel();
    const second = await begin([after]);
    await second.floor.calm();
    expect(after.texts().filter((text) => text.startsWith('Next on job 1042')).length).toBe(1);
    expect(await second.floor.store.outbox()).toEqual([]);
  });
});

describe('a damaged job file', () => {
  it('stops only its own job: the controller is told once, the others go on, what is posted stays kept', async () => {
    const first = await begin();
    const thread = await first.open();
    await first.take(message('open2', 'Robin', 'open job 1043 bus 18 coolant pump tech Mo'));
    await first.floor.running.stop();
    running.splice(0);
    const jobs = join(folder, 'jobs');
    const file = readdirSync(jobs).find((name) => name.includes('1042')) ?? '';
    writeFileSync(join(jobs, file), readFileSync(join(jobs, file), 'utf8').slice(0, 200));

    const { floor, bench, take } = await begin();
    await floor.calm();
    await take(message('m1', 'Kim', 'open jobs'));
    const said = bench.texts().join('\n');
    expect(said).toContain('1043 bus 18');
    expect(said.match(/Job 1042 cannot be shown/gu)?.length).toBe(1);
    await take(message('m2', 'Ada', 'drained 26 L of coolant', { thread }));
    expect(bench.texts().at(-1)).toContain('Kept, but not recorded yet.');
    expect((await floor.store.waiting()).map(({ delivery }) => delivery.id)).toEqual(['bench:m2']);
  });
});

describe('a channel that fails', () => {
  it('told to wait, it waits and then posts once', async () => {
    const bench = keepingChannel();
    const { floor, open } = await begin([bench]);
    const thread = await open();
    bench.failures.push({ ok: false, failure: { kind: 'wait', seconds: 30 } });
    await bench.intake().accept(message('m1', 'Ada', 'what next', { thread }));
    await floor.running.idle();
    for (let looks = 0; looks < 200 && !floor.clock.waitsFor('outbox'); looks += 1)
      await new Promise((done) => setTimeout(done, 5));
    expect(floor.running.backlog()).toBe(1);
    await floor.clock.until('2026-03-10T07:01:00.000Z', floor.calm);
    await floor.calm();
    expect(bench.texts().filter((text) => text.startsWith('Next on job 1042')).length).toBe(1);
    expect(floor.running.backlog()).toBe(0);
  });

  it('after an unclear failure it looks for the post before posting again', async () => {
    const bench = keepingChannel();
    const { floor, open } = await begin([bench]);
    const thread = await open();
    const real = bench.channel.post;
    let calls = 0;
    (bench.channel as { post: typeof real }).post = async (place, card, key) => {
      calls += 1;
      const result = await real(place, card, key);
      // Posted, but the answer is lost on the way.
      return calls === 1
        ? { ok: false, failure: { kind: 'unclear', why: 'the connection was reset' } }
        : result;
    };
    await bench.intake().accept(message('m1', 'Ada', 'what next', { thread }));
    await floor.running.idle();
    for (let looks = 0; looks < 200 && !floor.clock.waitsFor('outbox'); looks += 1)
      await new Promise((done) => setTimeout(done, 5));
    await floor.clock.until('2026-03-10T07:05:00.000Z', floor.calm);
    await floor.calm();
    expect(calls).toBe(1);
    expect(bench.texts().filter((text) => text.startsWith('Next on job 1042')).length).toBe(1);
    expect(floor.running.backlog()).toBe(0);
  });

  it('a job on two channels reads alike on both, and a sign goes only where the message stands', async () => {
    const bench = keepingChannel('bench');
    const slack = keepingChannel('slack');
    const { floor, open } = await begin([bench, slack]);
    const thread = await open();
    expect(slack.texts()).toEqual(bench.texts());
    await bench.intake().accept(message('m1', 'Ada', 'what next', { thread }));
    await floor.calm();
    expect(slack.texts()).toEqual(bench.texts());
    await slack.intake().accept({
      ...message('m2', 'U0ADA', 'drained 26 L of coolant'),
      id: 'slack:Ev1',
      channel: 'slack',
      team: 'T1',
      place: 'C1',
    });
    await floor.calm();
    expect(slack.signs).toEqual([{ message: 'm2', mark: 'recorded' }]);
    expect(bench.signs.some((sign) => sign.message === 'm2')).toBe(false);
  });

  it('out of reach at the start it is tried again, and the bench goes on meanwhile', async () => {
    const bench = keepingChannel('bench');
    const slack = keepingChannel('slack');
    const real = slack.channel.start;
    let starts = 0;
    (slack.channel as { start: typeof real }).start = async (intake) => {
      starts += 1;
      if (starts < 3) throw new Error('getaddrinfo ENOTFOUND');
      await real(intake);
    };
    const { floor, open } = await begin([bench, slack]);
    await open();
    expect(bench.texts().length).toBe(1);
    await floor.clock.until('2026-03-10T07:05:00.000Z', floor.calm);
    expect(starts).toBe(3);
    await slack.intake().accept({
      ...message('m2', 'U0ADA', 'drained 26 L of coolant'),
      id: 'slack:Ev1',
      channel: 'slack',
      team: 'T1',
      place: 'C1',
    });
    await floor.calm();
    expect(slack.signs).toEqual([{ message: 'm2', mark: 'recorded' }]);
  });

  it('an edit in the thread names the thread, and one that is refused holds up nothing else', async () => {
    const bench = keepingChannel();
    const { floor, take, open } = await begin([bench]);
    const thread = await open();
    const places: (string | undefined)[] = [];
    const real = bench.channel.edit;
    (bench.channel as { edit: typeof real }).edit = async (posted, card) => {
      places.push(posted.place.thread);
      return posted.place.thread === undefined
        ? real(posted, card)
        : { ok: false, failure: { kind: 'refused', why: 'it is gone' } };
    };
    // A question is closed by editing the reply in which it was asked.
    await take(message('m1', 'Ada', 'hoses off the pump', { thread }));
    const asked = (await floor.running.floor.shelved('1042'))?.state.view.questions[0];
    expect(asked?.asks).toContain('clips');
    const answer = { do: 'answer', job: '1042', question: asked?.question, choice: 0 };
    await take(tap('t1', 'Ada', JSON.stringify(answer)));
    await take(message('m2', 'Ada', 'what next', { thread, at: '2026-03-10T07:01:00.000Z' }));
    const before = bench.texts().filter((text) => text.startsWith('Next on job 1042')).length;
    expect(before).toBe(1);
    expect(places).toContain(thread);
  });
});
