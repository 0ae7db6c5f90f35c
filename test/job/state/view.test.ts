// What the view says beside flags: next steps, findings, blocks, photos, figures by question, people, status.
import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import { check } from '../../../src/job/check.ts';
import {
  act,
  answers,
  at,
  cyl,
  deletes,
  done,
  flagsOf,
  litres,
  opened,
  planOf,
  releases,
  SIX,
  says,
  started,
  stateOf,
  viewOf,
} from '../story.ts';

describe('next', () => {
  const plan = planOf([
    { id: 'wash' },
    { id: 'chock', weight: 'safety-critical' },
    { id: 'look', after: ['chock'], hold: { release: ['controller'] } },
    { id: 'cover', after: ['look'], weight: 'damage-critical' },
  ]);
  const next = (story: Parameters<typeof viewOf>[1]) =>
    viewOf(plan, story).next.map(({ step }) => step);
  it('what order allows, gravest first, then as the plan has it', () => {
    expect(next([])).toEqual(['chock', 'wash']);
    expect(next(says('m1', '08:00', 'Tom', [done('chock')]))).toEqual(['wash', 'look']);
  });
  it('nothing past a hold point until it is released', () => {
    const held = [says('m1', '08:00', 'Tom', [done('chock'), done('look')])];
    expect(next(held)).toEqual(['wash']);
    expect(next([held, releases('look', '08:10')])).toEqual(['cover', 'wash']);
  });
  it('a step begun is still next', () => {
    expect(next(says('m1', '08:00', 'Tom', [started('chock')]))).toContain('chock');
  });
});

describe('figures left out', () => {
  const plan = planOf(
    [
      {
        id: 'drain',
        title: 'Drain the coolant',
        report: [{ kind: 'drained', fluid: 'coolant', min: 22, max: 34 }],
      },
      { id: 'strip', after: ['drain'] },
    ],
    { fluids: { coolant: { title: 'coolant' } } },
  );
  const story = says('m1', '08:00', 'Tom', [done('drain')]);
  it('partly done, one question with what is expected', () => {
    const view = viewOf(plan, story);
    expect(stateOf(view, 'drain')).toBe('partial');
    expect(view.wants).toMatchObject([
      {
        question: 'm1:figure:drain',
        asks: '"Drain the coolant" still needs the volume of coolant in L (22 to 34 L expected).',
      },
    ]);
  });
  it('what follows is in order, since the step has its record; closing waits for the figure', () => {
    const strip = says('m2', '08:30', 'Tom', [done('strip')]);
    const view = viewOf(plan, [story, strip]);
    expect(flagsOf(view)).toEqual([]);
    expect(view.closeNeeds.some((need) => need.includes('the volume of coolant in L'))).toBe(true);
    const figure = says('m3', '08:40', 'Tom', [act('partial', 'drain', { quantity: litres(28) })]);
    const late = viewOf(plan, [story, strip, figure]);
    expect(flagsOf(late)).toEqual([]);
    expect(late.steps[0]).toMatchObject({ state: 'done', at: at('08:00') });
  });
  it('a figure in a unit that measures something else is no figure', () => {
    expect(
      stateOf(
        viewOf(
          plan,
          says('m1', '08:00', 'Tom', [done('drain', { quantity: { value: 28, unit: 'bar' } })]),
        ),
        'drain',
      ),
    ).toBe('partial');
  });
  it('a clearance left out can be answered with the target, as an assumption', () => {
    const valves = planOf([
      {
        id: 'set',
        report: [
          { kind: 'clearance', valves: [{ valve: 'inlet', target: 0.3, min: 0.25, max: 0.35 }] },
        ],
      },
    ]);
    const set = says('m1', '08:00', 'Tom', [done('set')]);
    const view = viewOf(valves, [set, answers(viewOf(valves, set), 'figure', 0, '08:01')]);
    expect(stateOf(view, 'set')).toBe('done');
    expect(view.steps[0]?.assumed).toEqual(["clearance of inlet: the plan's target"]);
  });
});

describe('photos and remarks', () => {
  const plan = planOf([
    {
      id: 'look',
      report: [
        { kind: 'photo', of: 'the seal' },
        { kind: 'remark', of: 'its state' },
      ],
    },
    { id: 'cover', after: ['look'] },
  ]);
  const photo = (message: string): JobEvent => ({
    id: `p:${message}`,
    at: at('08:01'),
    by: 'Tom',
    kind: 'photo-kept',
    message,
    name: 'a',
    type: 'image/jpeg',
    bytes: 1,
    sha256: 'x',
  });
  const look = says('m1', '08:00', 'Tom', [done('look')]);
  it('keep the job open, not the step', () => {
    const view = viewOf(plan, [look, says('m2', '08:10', 'Tom', [done('cover')])]);
    expect(stateOf(view, 'look')).toBe('done');
    expect(flagsOf(view)).toEqual([]);
    expect(view.closeNeeds).toEqual([
      '"look": still missing: a photo of the seal and a remark on its state.',
    ]);
  });
  it('a photo with the report, or alone after it by the same person', () => {
    const missing = (story: Parameters<typeof viewOf>[1]) => viewOf(plan, story).steps[0]?.missing;
    expect(missing([look, photo('m1')])).toEqual(['a remark on its state']);
    expect(missing([look, says('m2', '08:02', 'Tom', []), photo('m2')])).toEqual([
      'a remark on its state',
    ]);
    expect(missing([look, says('m2', '08:02', 'Ana', []), photo('m2')])).toHaveLength(2);
    expect(
      missing([says('m1', '08:00', 'Tom', [done('look', { note: 'dry' })]), photo('m1')]),
    ).toEqual([]);
  });
});

describe('findings and blocks', () => {
  const plan = planOf([{ id: 'fit' }, { id: 'paint', option: 'rust' }], {
    options: { rust: 'Rust found' },
  });
  const found = says('m1', '08:00', 'Tom', [act('finding', undefined, { note: 'sill rusty' })]);
  const settled = (how: 'approved' | 'declined'): JobEvent => ({
    id: 's',
    at: at('08:30'),
    by: 'Sam',
    kind: 'finding-settled',
    message: 'm1',
    settled: how,
    positions: [],
    options: ['rust'],
  });
  it('open until the controller decides; approved, its option joins the job', () => {
    expect(viewOf(plan, found).findings).toEqual([
      { message: 'm1', by: 'Tom', at: at('08:00'), says: 'sill rusty', state: 'open' },
    ]);
    const view = viewOf(plan, [found, settled('approved')]);
    expect(view.findings[0]?.state).toBe('approved');
    expect(view.options).toEqual(['rust']);
    expect(stateOf(view, 'paint')).toBe('open');
    const declined = viewOf(plan, [found, settled('declined')]);
    expect(declined.findings[0]?.state).toBe('declined');
    expect(stateOf(declined, 'paint')).toBe('not-on-job');
  });
  it('blocked until it goes on, or the step is reported', () => {
    const waiting = says('m1', '08:00', 'Tom', [act('blocked', 'fit', { note: 'no gasket' })]);
    const says_ = (story: Parameters<typeof viewOf>[1]) =>
      viewOf(plan, story).blocked.map((one) => one.says);
    expect(says_(waiting)).toEqual(['no gasket']);
    expect(says_([waiting, says('m2', '09:00', 'Tom', [act('resumed', undefined)])])).toEqual([]);
    expect(says_([waiting, says('m2', '07:00', 'Tom', [act('resumed', undefined)])])).toEqual([
      'no gasket',
    ]);
    expect(says_([waiting, says('m2', '09:00', 'Tom', [done('fit')])])).toEqual([]);
    expect(says_([waiting, deletes('m1', '09:00')])).toEqual([]);
  });
});

describe('the job', () => {
  const plan = planOf([{ id: 'a', each: 'cylinders' }], { positions: SIX });
  it('people and promise as last changed', () => {
    const changed: JobEvent = {
      id: 'c',
      at: at('09:00'),
      by: 'Sam',
      kind: 'job-changed',
      technician: 'Ana',
      promised: null,
    };
    const view = viewOf(plan, [
      opened({ technician: 'Tom', controller: 'Sam', promised: at('16:00') }),
      changed,
    ]);
    expect(view).toMatchObject({ technician: 'Ana', controller: 'Sam', promised: undefined });
  });
  it('open, closed, opened again, cancelled', () => {
    const event = (kind: 'job-closed' | 'job-reopened' | 'job-cancelled', clock: string) =>
      ({ id: clock, at: at(clock), by: 'Sam', kind, reason: 'r' }) as JobEvent;
    const status = (...events: JobEvent[]) => viewOf(plan, events).status;
    expect(status()).toBe('open');
    expect(status(event('job-closed', '09:00'))).toBe('closed');
    expect(status(event('job-reopened', '10:00'), event('job-closed', '09:00'))).toBe('open');
    expect(status(event('job-cancelled', '09:00'))).toBe('cancelled');
  });
  it('released to the road by somebody, apart from closing, until the job is opened again', () => {
    const released: JobEvent = { id: 'r', at: at('11:00'), by: 'Sam', kind: 'road-released' };
    const reopened: JobEvent = {
      id: 'o',
      at: at('12:00'),
      by: 'Sam',
      kind: 'job-reopened',
      reason: 'x',
    };
    expect(viewOf(plan, [released])).toMatchObject({
      roadReleased: { by: 'Sam', at: at('11:00') },
      status: 'open',
    });
    expect(viewOf(plan, [released, reopened]).roadReleased).toBeUndefined();
  });
  it('positions in the order of the plan, and the last event', () => {
    const view = viewOf(plan, [opened({ positions: cyl(5, 2) }), says('m1', '10:00', 'Tom', [])]);
    expect(view.positions.get('cylinders')).toEqual(cyl(2, 5));
    expect(view.lastEventAt).toBe(at('10:00'));
  });
  it('events that open no job are a broken file', () => {
    expect(() => check(plan, [], at('08:00'))).toThrow('no "job-opened"');
  });
});
