// Shift notes through a floor with a folder store: at their times, never twice, caught up on after a stop.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  floorOn,
  type Keeping,
  keepingChannel,
  message,
  OPEN,
  pump,
  SETTINGS,
  START,
  type TestFloor,
  temporaryFolder,
} from './workshop-floor.ts';

const SHIFTS = {
  ...SETTINGS,
  shifts: [
    {
      name: 'early',
      days: ['mon' as const, 'tue' as const, 'wed' as const, 'thu' as const, 'fri' as const],
      from: '06:00',
      to: '14:00',
    },
    {
      name: 'late',
      days: ['mon' as const, 'tue' as const, 'wed' as const, 'thu' as const, 'fri' as const],
      from: '14:00',
      to: '22:00',
    },
  ],
};

let folder: string;
let remove: () => Promise<void>;
let running: TestFloor | undefined;

beforeEach(async () => {
  ({ folder, remove } = await temporaryFolder());
});
afterEach(async () => {
  await running?.running.stop();
  running = undefined;
  await remove();
});

const start = async (keeping: Keeping, at = START): Promise<TestFloor> => {
  running = await floorOn(folder, [keeping], at, undefined, [pump], SHIFTS);
  await running.calm();
  return running;
};

const stop = async (): Promise<void> => {
  await running?.running.stop();
  running = undefined;
};

const notes = (keeping: Keeping): readonly string[] =>
  keeping.texts().filter((text) => /^(?:Start|End) of the|^Week of/u.test(text));

const say = async (floor: TestFloor, keeping: Keeping, id: string, who: string, text: string) => {
  await keeping.intake().accept(message(id, who, text, { at: floor.clock.now() }));
  await floor.calm();
};

describe('shift notes', () => {
  it('are silent where nothing is open and nothing was done', async () => {
    const keeping = keepingChannel();
    const floor = await start(keeping);
    await floor.clock.until('2026-03-12T23:00:00.000Z', floor.calm);
    await floor.calm();
    expect(keeping.texts()).toEqual([]);
    expect(floor.logged.filter(({ level }) => level === 'error')).toEqual([]);
  });

  it('tell what was done as the shift ends, what stands as the next begins, and hand the job over', async () => {
    const keeping = keepingChannel();
    const floor = await start(keeping);
    await say(floor, keeping, 'm1', 'Robin', OPEN);
    await say(floor, keeping, 'm2', 'Ada', '#1042 handbrake on, wheels chocked');
    await floor.clock.until('2026-03-10T14:00:30.000Z', floor.calm);
    await floor.calm();
    const [end, begin, ...rest] = notes(keeping);
    expect(end).toContain('End of the early shift, Tue 10 Mar 2026.');
    expect(end).toContain('1042 bus 17 · 1 step done by Ada');
    expect(begin).toContain('Start of the late shift, Tue 10 Mar 2026');
    expect(begin).toContain('1042 bus 17, Renew the coolant pump');
    expect(rest).toEqual([]);
    const handovers = keeping.texts().filter((text) => text.startsWith('Handover, job 1042'));
    expect(handovers).toHaveLength(1);
    expect(handovers[0]).toContain('end of the early shift');
  });

  it('are not given twice after a restart, nor is the job handed over twice', async () => {
    const keeping = keepingChannel();
    let floor = await start(keeping);
    await say(floor, keeping, 'm1', 'Robin', OPEN);
    await say(floor, keeping, 'm2', 'Ada', '#1042 handbrake on, wheels chocked');
    await floor.clock.until('2026-03-10T14:00:30.000Z', floor.calm);
    await floor.calm();
    const before = keeping.texts().length;
    for (const at of ['2026-03-10T14:01:00.000Z', '2026-03-10T14:05:00.000Z']) {
      await stop();
      floor = await start(keeping, at);
    }
    expect(keeping.texts()).toHaveLength(before);
  });

  it('given but not marked when the plug was pulled: it is found and not posted again', async () => {
    const keeping = keepingChannel();
    let floor = await start(keeping);
    await say(floor, keeping, 'm1', 'Robin', OPEN);
    await say(floor, keeping, 'm2', 'Ada', '#1042 handbrake on, wheels chocked');
    await floor.clock.until('2026-03-10T14:00:30.000Z', floor.calm);
    await floor.calm();
    const before = keeping.texts().length;
    await floor.store.setMark('notes-until', '2026-03-10T13:59:00.000Z');
    await stop();
    floor = await start(keeping, '2026-03-10T14:02:00.000Z');
    expect(keeping.texts()).toHaveLength(before);
  });

  it('are caught up on after a stop at the time, while they are worth reading', async () => {
    const keeping = keepingChannel();
    let floor = await start(keeping);
    await say(floor, keeping, 'm1', 'Robin', OPEN);
    await say(floor, keeping, 'm2', 'Ada', '#1042 handbrake on, wheels chocked');
    await stop();
    floor = await start(keeping, '2026-03-10T15:30:00.000Z');
    await floor.calm();
    expect(notes(keeping).map((text) => text.split(',')[0])).toEqual([
      'End of the early shift',
      'Start of the late shift',
    ]);
    await stop();
    // Two days later: only the start of the shift that runs, and the handover of Tuesday is no news.
    floor = await start(keeping, '2026-03-12T07:00:00.000Z');
    expect(notes(keeping)).toHaveLength(3);
    expect(notes(keeping)[2]).toContain('Start of the early shift, Thu 12 Mar 2026');
  });

  it('look back on the week with the first shift of the next', async () => {
    const keeping = keepingChannel();
    const floor = await start(keeping);
    await say(floor, keeping, 'm1', 'Robin', OPEN);
    await floor.clock.until('2026-03-16T06:00:30.000Z', floor.calm);
    await floor.calm();
    const week = notes(keeping).filter((text) => text.startsWith('Week of'));
    expect(week).toHaveLength(1);
    expect(week[0]).toContain('Week of Mon 9 Mar 2026 to Sun 15 Mar 2026. 1 opened, 0 closed');
    // Ada may not see hours, so the common channel does not say them.
    expect(keeping.texts().join(' ')).not.toContain('booked');
  });
});
