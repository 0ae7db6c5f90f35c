// The terminal bench: typed lines in, plain text out.
import { PassThrough } from 'node:stream';
import { afterEach, describe, expect, it } from 'vitest';
import { Delivery } from '../../../shared/delivery.ts';
import { terminalBench } from '../../../src/chat/bench/terminal.ts';
import { cardLines, harmless } from '../../../src/chat/bench/terminal-words.ts';
import type { Channel } from '../../../src/chat/channel.ts';
import { type FakeFloor, fakeFloor, NOW, YARD } from './bench-run.ts';
import { fakeView, job1042, OPEN_FORM, stopFlag } from './fake-view.ts';

const running: Channel[] = [];
afterEach(async () => {
  for (const channel of running.splice(0)) await channel.stop();
});

type Terminal = {
  readonly channel: Channel;
  readonly floor: FakeFloor;
  readonly type: (...lines: string[]) => void;
  readonly shown: () => string;
};

const start = async (env: Record<string, string> = {}, isTTY = false): Promise<Terminal> => {
  const input = new PassThrough();
  const output: PassThrough & { isTTY?: boolean } = new PassThrough();
  output.isTTY = isTTY;
  let text = '';
  output.on('data', (piece) => {
    text += String(piece);
  });
  const floor = fakeFloor();
  const channel = terminalBench({
    view: fakeView([job1042]),
    clock: () => NOW,
    input,
    output,
    env,
  });
  await channel.start(floor);
  running.push(channel);
  return {
    channel,
    floor,
    type: (...lines) => input.write(`${lines.join('\n')}\n`),
    shown: () => text,
  };
};

const openThread = async ({ channel }: Terminal): Promise<string> => {
  const posted = await channel.post(
    YARD,
    { text: 'Job 1042 is open.', title: 'Job 1042: Bus 27', blocks: [] },
    'sheet',
  );
  if (!posted.ok) throw new Error('The first card was not posted.');
  return posted.posted.message;
};

describe('the terminal bench', () => {
  it('asks who is posting and hands in nothing before that is chosen', async () => {
    const terminal = await start();
    expect(terminal.shown()).toContain('1 Sam, technician');
    terminal.type('drained 28 L');
    await expect.poll(terminal.shown).toContain('Nobody is chosen');
    expect(terminal.floor.taken).toEqual([]);
    terminal.type('/who sam', 'drained 28 L');
    await expect.poll(() => terminal.floor.taken.length).toBe(1);
    expect(Delivery.parse(terminal.floor.taken[0])).toMatchObject({
      kind: 'message',
      channel: 'bench',
      place: 'yard',
      person: 'Sam',
      text: 'drained 28 L',
      at: NOW,
    });
  });

  it('puts messages into the thread of the job it is at', async () => {
    const terminal = await start();
    const thread = await openThread(terminal);
    terminal.type('/who 1', '/job 1042', 'drained 28 L', '/yard', 'morning');
    await expect.poll(() => terminal.floor.taken.length).toBe(2);
    expect(terminal.floor.taken.map((taken) => taken.thread)).toEqual([thread, undefined]);
    expect(terminal.shown()).toContain('Coolant out: do not start the engine');
  });

  it('names the job in the message where its thread is not known', async () => {
    const terminal = await start();
    terminal.type('/who 1', '/job 1042', 'drained 28 L');
    await expect.poll(() => terminal.floor.taken.length).toBe(1);
    expect(terminal.floor.taken[0]).toMatchObject({ text: 'Job 1042: drained 28 L' });
  });

  it('taps an action by its number, with its form asked line by line', async () => {
    const terminal = await start();
    const thread = await openThread(terminal);
    await terminal.channel.post(
      { ...YARD, thread },
      { text: stopFlag.says, level: 'stop', blocks: [], actions: stopFlag.actions, tells: ['Kim'] },
      'flag',
    );
    expect(terminal.shown()).toMatch(/\|\|\| STOP\n\|\|\| Skipped: "Drain the coolant"/);
    expect(terminal.shown()).toContain('/1 Release with a reason');
    terminal.type('/who Kim', '/1', '', 'Seen drained by me', '/2', '/77');
    await expect.poll(() => terminal.floor.taken.length).toBe(2);
    expect(terminal.shown()).toContain('Reason is needed.');
    const [release, seen] = terminal.floor.taken;
    expect(release).toMatchObject({
      kind: 'tap',
      thread,
      fields: { reason: 'Seen drained by me' },
    });
    expect(JSON.parse(release?.kind === 'tap' ? release.intent : '')).toMatchObject({
      do: 'override',
    });
    expect(JSON.parse(seen?.kind === 'tap' ? seen.intent : '')).toMatchObject({
      do: 'acknowledge',
    });
    await expect.poll(terminal.shown).toContain('There is no action 77 now.');
  });

  it('opens a job with choices by number, and a date with the offset of the workshop', async () => {
    const terminal = await start();
    expect(OPEN_FORM.fields.map(({ name }) => name)).toEqual([
      'job',
      'vehicle',
      'plan',
      'positions',
      'odometer',
      'promised',
      'complaint',
    ]);
    terminal.type(
      '/who 3',
      '/open',
      '1050',
      'Bus 9',
      '7',
      '2',
      '1,2',
      'far',
      '',
      '2025-06-01 16:00',
      '',
    );
    await expect.poll(() => terminal.floor.taken.length).toBe(1);
    expect(terminal.shown()).toContain('"7" is none of these.');
    expect(terminal.shown()).toContain('"far" is no figure.');
    expect(terminal.floor.taken[0]).toMatchObject({
      kind: 'tap',
      person: 'Kim',
      fields: {
        job: '1050',
        vehicle: 'Bus 9',
        plan: 'renew-coolant-pump',
        positions: ['cylinder 1', 'cylinder 2'],
        promised: '2025-06-01T16:00:00+01:00',
      },
    });
  });

  it('amends and takes back the last message', async () => {
    const terminal = await start();
    terminal.type('/who 1', 'drained 18 L', '/amend drained 28 L', '/take-back');
    await expect.poll(() => terminal.floor.taken.length).toBe(3);
    const [message, edit, taken] = terminal.floor.taken;
    const id = message?.kind === 'message' ? message.message : '';
    expect(edit).toMatchObject({ kind: 'edit', message: id, text: 'drained 28 L' });
    expect(taken).toMatchObject({ kind: 'delete', message: id });
  });

  it('signs in words, keeps a job sheet quiet, and tells a flag again when it is withdrawn', async () => {
    const terminal = await start();
    const thread = await openThread(terminal);
    terminal.type('/who 1', 'drained 28 L');
    await expect.poll(() => terminal.floor.taken.length).toBe(1);
    const [said] = terminal.floor.taken;
    await terminal.channel.sign(YARD, said?.kind === 'message' ? said.message : '', 'recorded');
    expect(terminal.shown()).toContain('(noted: drained 28 L)');
    await terminal.channel.edit(
      { message: thread, place: YARD },
      { text: 'Job 1042: 10 of 38.', blocks: [] },
    );
    expect(terminal.shown()).not.toContain('10 of 38.');
    terminal.type('/job 1042', '/sheet');
    await expect.poll(terminal.shown).toContain('10 of 38.');
    const flag = await terminal.channel.post(
      { ...YARD, thread },
      { text: 'Skipped.', level: 'stop', blocks: [] },
      'f',
    );
    if (!flag.ok) throw new Error('The flag was not posted.');
    await terminal.channel.edit(flag.posted, { text: 'Withdrawn: drained before.', blocks: [] });
    expect(terminal.shown()).toContain('Withdrawn: drained before.');
    expect(await terminal.channel.find?.({ ...YARD, thread }, 'f')).toMatchObject({
      message: flag.posted.message,
    });
  });

  it('says so when a message did not reach the disk, and goes on', async () => {
    const terminal = await start();
    terminal.floor.gate = async () => {
      throw new Error('disk full');
    };
    terminal.type('/who 1', 'drained 28 L');
    await expect.poll(terminal.shown).toContain('It is not recorded');
    terminal.floor.gate = async () => {};
    terminal.type('drained 28 L');
    await expect.poll(() => terminal.floor.taken.length).toBe(1);
  });

  it.each([
    [{}, true, true],
    [{ NO_COLOR: '1' }, true, false],
    [{}, false, false],
  ])('with %j on a terminal (%s) it uses bold: %s', async (env, isTTY, isBold) => {
    const terminal = await start(env, isTTY);
    expect(terminal.shown().includes('\u001b[1m')).toBe(isBold);
  });
});

describe('texts on a terminal', () => {
  it.each([
    ['\u001b[2J\u001b]0;title\u0007', '\u241b[2J\u241b]0;title\u2407'],
    ['a\rb', 'a\nb'],
    ['\u009b31m', '\ufffd31m'],
    ['28 L\u202e', '28 L\ufffd'],
  ])('%j cannot steer it', (text, drawn) => {
    expect(harmless(text)).toBe(drawn);
  });

  it('tell the three levels by word and by shape', () => {
    const card = (level: 'stop' | 'caution' | 'advice') =>
      cardLines({ text: 'Text.', level, blocks: [] }, []);
    expect(card('stop')).toEqual(['||| STOP', '||| Text.']);
    expect(card('caution')).toEqual([' >  CAUTION', ' >  Text.']);
    expect(card('advice')).toEqual([' .  ADVICE', ' .  Text.']);
  });
});
