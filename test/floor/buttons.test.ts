// Who may do what, on every button and form: whoever may not is told so and changes nothing, also with a forged tap.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Intent } from '../../src/desk/card.ts';
import {
  floorOn,
  type Keeping,
  keepingChannel,
  message,
  OPEN,
  START,
  type TestFloor,
  tap,
  temporaryFolder,
} from './workshop-floor.ts';

let bench: Keeping;
let made: TestFloor;
let remove: () => Promise<void>;
let number = 0;
beforeEach(async () => {
  const temporary = await temporaryFolder();
  remove = temporary.remove;
  bench = keepingChannel('bench');
  made = await floorOn(temporary.folder, [bench]);
  await say('Robin', OPEN);
  thread = (await job()).threads[0]?.thread ?? '';
  await say('Ada', 'pressure test held 1.0 bar', true);
  await say('Ada', 'found a crack in the fan shroud', true);
  await say('Ada', 'belt off, hoses off', true);
  await say('Mo', 'hello everybody');
}, 60_000);
afterEach(async () => {
  await made.running.stop();
  await remove();
});
let thread = '';

const job = async () => {
  const found = await made.running.floor.shelved('1042');
  if (!found) throw new Error(`No job: ${bench.texts().join(' / ')}`);
  return found;
};
const say = async (by: string, text: string, inJob = false): Promise<void> => {
  number += 1;
  const at = new Date(Date.parse(START) + number * 60_000).toISOString();
  await made.clock.until(at, made.calm);
  await bench
    .intake()
    .accept(message(`m${number}`, by, text, { at, ...(inJob ? { thread } : {}) }));
  await made.calm();
};
const press = async (
  by: string,
  intent: Intent | string,
  fields?: Record<string, string>,
): Promise<string> => {
  number += 1;
  const before = bench.posted.map((each) => JSON.stringify(each.card));
  await bench
    .intake()
    .accept(
      tap(`t${number}`, by, typeof intent === 'string' ? intent : JSON.stringify(intent), fields),
    );
  await made.calm();
  return bench.posted
    .map((each) => JSON.stringify(each.card))
    .filter((text, index) => before[index] !== text)
    .join('\n');
};

type Row = {
  readonly intent: (around: Awaited<ReturnType<typeof job>>) => Intent;
  readonly fields?: Record<string, string>;
  /** Names who are refused; empty where everybody of the settings may. */
  readonly not: readonly string[];
};
const stranger = { channel: 'slack', team: 'T1', person: 'U0NEW01', name: 'New' } as const;

/** Every intent there is: a new one without a row does not compile. */
const ROWS: Readonly<Record<Intent['do'], Row>> = {
  answer: {
    intent: ({ state }) => ({
      do: 'answer',
      job: '1042',
      question: state.view.questions.find((each) => each.state === 'open')?.question ?? 'none',
      choice: null,
    }),
    not: ['Mo', 'Kim', 'Nobody'],
  },
  report: {
    intent: () => ({ do: 'report', job: '1042', step: 'chock-wheels', position: null }),
    not: ['Nobody'],
  },
  release: {
    intent: () => ({ do: 'release', job: '1042', step: 'pressure-test', position: null }),
    not: ['Ada', 'Mo', 'Kim', 'Nobody'],
  },
  refuse: {
    intent: () => ({ do: 'refuse', job: '1042', step: 'pressure-test', position: null }),
    fields: { reason: 'it drops' },
    not: ['Ada', 'Mo', 'Kim', 'Nobody'],
  },
  override: {
    intent: ({ state }) => ({ do: 'override', job: '1042', flag: flagOf(state.view.flags) }),
    fields: { reason: 'because' },
    not: ['Ada', 'Mo', 'Kim', 'Nobody'],
  },
  acknowledge: {
    intent: ({ state }) => ({ do: 'acknowledge', job: '1042', flag: flagOf(state.view.flags) }),
    not: ['Ada', 'Mo', 'Nobody'],
  },
  'settle-finding': {
    intent: ({ state }) => ({
      do: 'settle-finding',
      job: '1042',
      message: state.view.findings[0]?.message ?? 'none',
      settle: 'declined',
    }),
    not: ['Ada', 'Mo', 'Kim', 'Nobody'],
  },
  'open-job': { intent: () => ({ do: 'open-job' }), fields: { job: '1099' }, not: ['Nobody'] },
  'close-job': { intent: () => ({ do: 'close-job', job: '1042' }), not: ['Kim', 'Nobody'] },
  'cancel-job': {
    intent: () => ({ do: 'cancel-job', job: '1042' }),
    fields: { reason: 'because' },
    not: ['Ada', 'Mo', 'Kim', 'Nobody'],
  },
  'choose-job': {
    intent: () => ({ do: 'choose-job', delivery: 'bench:aside', job: '1042' }),
    not: ['Ada', 'Kim', 'Nobody'],
  },
  'take-in': {
    intent: () => ({ do: 'take-in', ...stranger }),
    fields: { who: '(new)', name: 'New', role: 'controller' },
    not: ['Ada', 'Mo', 'Kim', 'Nobody'],
  },
  'turn-away': {
    intent: () => ({ do: 'turn-away', ...stranger }),
    not: ['Ada', 'Mo', 'Kim', 'Nobody'],
  },
  say: {
    intent: () => ({ do: 'say', job: '1042', text: 'release pressure test' }),
    not: ['Ada', 'Mo', 'Kim', 'Nobody'],
  },
};

const flagOf = (
  flags: readonly {
    rule: string;
    level: string;
    step: string | null;
    position: string | null;
    part: string | null;
    clearedBy?: readonly string[] | undefined;
  }[],
): string => {
  const flag = flags.find((each) => each.level === 'stop' && !each.clearedBy) ?? flags[0];
  return [flag?.rule, flag?.step ?? '', flag?.position ?? '', flag?.part ?? ''].join('|');
};

/** Kinds that only say that something was posted or asked. */
const HARMLESS = new Set([
  'message-posted',
  'message-read',
  'question-asked',
  'flag-announced',
  'question-lapsed',
]);

describe('who may not', () => {
  it.each(Object.entries(ROWS))('"%s": is told so, and nothing is changed', async (name, row) => {
    await bench
      .intake()
      .setAside?.(
        message('aside', 'Mo', 'wheels chocked') as Parameters<
          NonNullable<ReturnType<typeof bench.intake>['setAside']>
        >[0],
      );
    const intent = row.intent(await job());
    expect(JSON.stringify(intent)).not.toContain('none');
    for (const by of row.not) {
      const before = (await job()).state.events.filter(({ kind }) => !HARMLESS.has(kind)).length;
      const answer = await press(by, intent, row.fields);
      const after = (await job()).state.events.filter(({ kind }) => !HARMLESS.has(kind)).length;
      expect(after, `${by}, ${name}`).toBe(before);
      expect(answer, `${by}, ${name}`).toMatch(
        /may not|may move only|cannot release|not in the workshop's settings|The question is for/u,
      );
    }
    expect(made.running.floor.jobNumbers()).not.toContain('1099');
    expect((await job()).state.view.status).toBe('open');
    expect(JSON.stringify(made.running.floor.workshop.settings)).not.toContain('U0NEW01');
  });
});

describe('who may', () => {
  it.each([
    ['release', 'Robin', 'hold-released'],
    ['refuse', 'Robin', 'hold-refused'],
    ['acknowledge', 'Kim', 'flag-acknowledged'],
    ['override', 'Robin', 'flag-overridden'],
    ['settle-finding', 'Robin', 'finding-settled'],
    ['answer', 'Ada', 'question-answered'],
  ] as const)('"%s" by %s is recorded as %s', async (name, by, kind) => {
    const row = ROWS[name];
    await press(by, row.intent(await job()), row.fields);
    const kinds = (await job()).state.events.map((event) => event.kind);
    expect(kinds).toContain(kind);
  });

  it('taps what is not understood is told so', async () => {
    for (const intent of [
      '{}',
      'no json',
      '{"do":"release","job":"1042"}',
      '{"do":"say","text":5}',
    ])
      expect(await press('Robin', intent)).toContain('not understood');
  });
});
