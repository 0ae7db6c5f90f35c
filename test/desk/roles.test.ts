// Who may do what: the whole table, and the sentences that tell people whom to ask.
import { describe, expect, it } from 'vitest';
import type { Role } from '../../shared/plan.ts';
import {
  type Deed,
  mayDo,
  mayMove,
  mayReleaseToRoad,
  mayReport,
  mayTakeOver,
} from '../../src/desk/roles.ts';
import { deskJob, done, PEOPLE, texts } from './desk-job.ts';

const T: Role = 'technician';
const C: Role = 'controller';
const M: Role = 'manager';

/** From the README's account of the roles: a technician works, a controller decides, a manager plans. */
const TABLE: readonly (readonly [Deed, readonly Role[]])[] = [
  ['open-job', [T, C, M]],
  ['close-job', [T, C]],
  ['cancel-job', [C]],
  ['override', [C]],
  ['acknowledge', [C, M]],
  ['settle-finding', [C]],
  ['change-job', [C, M]],
  ['reopen-job', [C]],
  ['correct-job', [C]],
];

describe.each(TABLE)('%s', (deed, roles) => {
  it.each([T, C, M])('%s', (role) => {
    const may = mayDo({ name: 'Sam', roles: [role] }, deed);
    expect(may.ok).toBe(roles.includes(role));
    if (!may.ok) expect(may.says).toMatch(/^Sam may not .+: that takes a .+\. Ask one of them\.$/u);
  });
});

describe('release to the road', () => {
  const people = (...competences: readonly (readonly string[])[]) => ({
    people: competences.map((each, index) => ({
      name: `P${index}`,
      roles: [index === 0 ? C : T],
      competences: [...each],
    })),
  });

  it('is for a controller where nobody has the competence', () => {
    expect(mayReleaseToRoad(people([], []), { name: 'P0', roles: [C] }).ok).toBe(true);
    expect(mayReleaseToRoad(people([], []), { name: 'P1', roles: [T] }).ok).toBe(false);
  });

  it('is for those with the competence, whatever their role, and for nobody else', () => {
    const settings = people([], ['road-release']);
    expect(mayReleaseToRoad(settings, { name: 'P1', roles: [T] }).ok).toBe(true);
    const other = mayReleaseToRoad(settings, { name: 'P0', roles: [C] });
    expect(other).toEqual({ ok: false, says: expect.stringContaining('Ask P1.') });
  });
});

describe('a step that takes a competence', () => {
  const step = { title: 'Brake test', competence: ['brake-tester', 'inspector'] };

  it('counts from somebody with one of them', () => {
    expect(mayReport(PEOPLE, 'Ada', step).ok).toBe(true);
  });

  it('does not count from others, who are told who has it', () => {
    expect(mayReport(PEOPLE, 'Mo', step)).toEqual({
      ok: false,
      says: '"Brake test" takes the competence brake-tester or inspector, which Mo does not have in the settings, so it does not count as done. Ask Ada to do it and post it.',
    });
  });

  it('a step that takes none counts from anybody', () => {
    expect(mayReport(PEOPLE, 'Mo', { title: 'Swap the wheel' }).ok).toBe(true);
  });
});

describe('taking over and moving', () => {
  it('a technician takes over, a controller gives', () => {
    expect(mayTakeOver({ name: 'Mo', roles: [T] }).ok).toBe(true);
    expect(mayTakeOver({ name: 'Robin', roles: [C] }).ok).toBe(false);
  });

  it('people move their own messages, a controller anybody’s', () => {
    expect(mayMove({ name: 'Mo', roles: [T] }, ['Mo']).ok).toBe(true);
    expect(mayMove({ name: 'Mo', roles: [T] }, ['Mo', 'Ada']).ok).toBe(false);
    expect(mayMove({ name: 'Robin', roles: [C] }, ['Mo', 'Ada']).ok).toBe(true);
  });
});

describe('the one who did the work', () => {
  it('may not release its hold point, although the plan lets the role', () => {
    const job = deskJob();
    for (const [index, step] of ['chock', 'jack-up', 'swap', 'lower', 'tighten-nuts'].entries())
      job.say('Robin', step, `07:0${index}`, [done(step)]);
    const posts = job.tap(
      'Robin',
      { do: 'release', job: '1042', step: 'tighten-nuts', position: null },
      '07:10',
    );
    expect(texts(posts).join(' ')).toContain('Robin did the work at "Tighten the wheel nuts"');
    expect(job.state().events.some(({ kind }) => kind === 'hold-released')).toBe(false);
  });
});
