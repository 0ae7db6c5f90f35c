import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import {
  act,
  at,
  cyl,
  done,
  flagsOf,
  only,
  opened,
  overrides,
  planOf,
  releases,
  SIX,
  says,
  viewOf,
} from '../story.ts';

const plan = planOf(
  [
    { id: 'drain', title: 'Drain it', opens: ['empty'] },
    { id: 'fill', title: 'Fill it', closes: ['empty'], weight: 'damage-critical' },
    { id: 'look', title: 'Look it over', hold: { release: ['controller'] } },
    { id: 'wheels', title: 'Wheels on', each: 'cylinders' },
  ],
  { positions: SIX, states: { empty: { title: 'Coolant out' } } },
);
const on = opened({ positions: cyl(1, 2) });
const close = says('m9', '12:00', 'Tom', [act('command', undefined, { command: 'close-job' })]);
const closed = (clock: string): JobEvent => ({
  id: `closed ${clock}`,
  at: at(clock),
  by: 'Sam',
  kind: 'job-closed',
});
const all = [
  says('m1', '08:00', 'Tom', [done('drain')]),
  says('m2', '08:10', 'Tom', [done('fill')]),
  says('m3', '08:20', 'Tom', [done('look')]),
  releases('look', '08:25'),
  says('m4', '08:30', 'Tom', [done('wheels', {}, cyl(1, 2))]),
];

describe('what keeps a job open', () => {
  it('nothing, when every step has its record', () => {
    expect(viewOf(plan, [on, all]).closeNeeds).toEqual([]);
  });
  it('steps with their positions, holds, vehicle states, each one sentence', () => {
    const view = viewOf(plan, [
      on,
      all[0] ?? [],
      all[2] ?? [],
      says('m4', '08:30', 'Tom', [done('wheels', {}, cyl(1))]),
    ]);
    expect(view.closeNeeds).toEqual([
      'Vehicle state open: Coolant out.',
      '"Fill it": no record.',
      '"Wheels on", cylinder 2: no record.',
      '"Look it over": not released.',
    ]);
  });
  it('a finding nobody has decided, and a flag that stands', () => {
    const short = planOf([
      { id: 'a', weight: 'safety-critical' },
      { id: 'b', after: ['a'] },
    ]);
    const late = [
      says('m1', '08:00', 'Tom', [done('b')]),
      says('m2', '08:10', 'Tom', [done('a', { time: at('08:05') })]),
    ];
    expect(viewOf(short, late).closeNeeds).toEqual(['Flag open: Done afterwards: "a", at 08:05.']);
    expect(viewOf(short, [late, overrides('skipped|a||', '08:20')]).closeNeeds).toEqual([]);
    const found = says('m8', '08:30', 'Tom', [
      act('finding', undefined, { note: 'mount cracked' }),
    ]);
    expect(viewOf(plan, [on, all, found]).closeNeeds).toEqual([
      'Finding not decided: mount cracked.',
    ]);
  });
  it('a skipped step the controller released does not', () => {
    const short = planOf([{ id: 'a' }, { id: 'b', after: ['a'] }]);
    const story = [says('m1', '08:00', 'Tom', [done('b')])];
    expect(viewOf(short, story).closeNeeds).toEqual(['"a": no record.']);
    expect(viewOf(short, [story, overrides('skipped|a||', '08:20')]).closeNeeds).toEqual([]);
  });
  it('a follow-up by distance or more than a day later does not, one within the hour does', () => {
    const follow = (within: object) =>
      viewOf(
        planOf([
          { id: 'nuts' },
          { id: 'again', within: { after: 'nuts', because: 'they settle', ...within } },
        ]),
        [says('m1', '08:00', 'Tom', [done('nuts')])],
        { now: '08:10' },
      ).closeNeeds;
    expect(follow({ km: { min: 40, max: 80 } })).toEqual([]);
    expect(follow({ minutes: 3 * 24 * 60 })).toEqual([]);
    expect(follow({ minutes: 30 })).toEqual(['"again": no record.']);
  });
});

describe('closing with something open', () => {
  it('is refused with the list, as grave as what is open', () => {
    const view = viewOf(plan, [
      on,
      all[1] ?? [],
      all[2] ?? [],
      releases('look', '08:25'),
      says('m4', '08:30', 'Tom', [done('wheels', {}, cyl(1, 2))]),
      close,
    ]);
    expect(only(view, 'early-close')).toEqual(['early-close||| advice']);
    expect(view.flags[0]?.says).toBe(
      'Not closed: something is open. "Drain it": no record. Job 1042, 12:00. See to these, then close the job.',
    );
    expect(view.flags[0]?.raisedBy).toEqual(['m9']);
  });
  it('an open vehicle state makes it a stop', () => {
    expect(only(viewOf(plan, [on, all[0] ?? [], close]), 'early-close')).toEqual([
      'early-close||| stop',
    ]);
  });
  it('nobody tried, nothing is said; nothing open, nothing is said', () => {
    expect(flagsOf(viewOf(plan, [on, all[0] ?? []]))).toEqual([]);
    expect(flagsOf(viewOf(plan, [on, all, close, closed('12:01')]))).toEqual([]);
  });
  it('once all is seen to, it is settled', () => {
    const view = viewOf(plan, [
      on,
      all.slice(0, 4),
      close,
      says('m10', '12:10', 'Tom', [done('wheels', {}, cyl(1, 2))]),
    ]);
    expect(only(view, 'early-close')).toEqual(['early-close||| settled']);
    expect(view.flags.at(-1)?.clearedBy).toEqual(['m10']);
  });
  it('a job that was closed while a report was later taken out stands open to question', () => {
    const gone: JobEvent = {
      id: 'd',
      at: at('13:00'),
      by: 'Tom',
      kind: 'message-deleted',
      message: 'm4',
    };
    const view = viewOf(plan, [on, all, closed('12:00'), gone]);
    expect(view.status).toBe('closed');
    expect(only(view, 'early-close')).toHaveLength(1);
  });
  it('opened again, the earlier closing does not count', () => {
    const reopened: JobEvent = {
      id: 'r',
      at: at('13:00'),
      by: 'Sam',
      kind: 'job-reopened',
      reason: 'leak',
    };
    const view = viewOf(plan, [on, all.slice(0, 4), closed('12:00'), reopened]);
    expect(only(view, 'early-close')).toEqual([]);
    expect(view.status).toBe('open');
  });
});
