// Message texts of any Unicode: read without a crash, within bounds, the same each time, and recorded as they came.
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Act } from '../../shared/reading.ts';
import { openJob } from '../../src/desk/opening/open-job.ts';
import { hear } from '../../src/desk/turn/hear.ts';
import type { Moment } from '../../src/desk/turn/turn.ts';
import { workshopOf } from '../../src/desk/workshop.ts';
import { surroundings } from '../../src/floor/around.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import { buildLexicon } from '../../src/language/lexicon.ts';
import { readMessage } from '../../src/language/read.ts';
import { ACTS_AT_MOST } from '../../src/language/thresholds.ts';
import { SETTINGS } from '../floor/workshop-floor.ts';
import { ROOT } from '../layout/sources.ts';
import { casesOf, SEED, wildText } from './wild.ts';

const planNamed = (name: string) => {
  const { plan } = loadPlan(readFileSync(`${ROOT}/data/plans/${name}.yaml`, 'utf8'), name);
  if (!plan) throw new Error(`The plan ${name} has errors.`);
  return plan;
};
const plan = planNamed('injectors-six-cylinder');
const lexicon = buildLexicon(plan);
const positions = [...plan.setOf.keys()];

describe('any text', () => {
  const runs = casesOf(1_500);
  it(`${runs} texts are read within bounds, and the same each time`, () => {
    fc.assert(
      fc.property(wildText, fc.option(wildText, { nil: undefined }), (text, before) => {
        const context = {
          positions,
          at: '2026-03-10T10:00:00+00:00',
          by: 'Ada',
          ...(before === undefined
            ? {}
            : { previous: [{ id: 'b', from: 'person' as const, text: before }] }),
        };
        const { acts } = readMessage(text, lexicon, context);
        expect(acts.length).toBeLessThanOrEqual(ACTS_AT_MOST + 1);
        for (const act of acts) {
          Act.parse(act);
          const [from, to] = act.span;
          expect(0 <= from && from <= to && to <= text.length).toBe(true);
          for (const position of act.positions) expect(plan.setOf.has(position)).toBe(true);
          if (act.quantity) expect(Number.isFinite(act.quantity.value)).toBe(true);
        }
        expect(readMessage(text, lexicon, context).acts).toEqual(acts);
      }),
      { numRuns: runs, seed: SEED },
    );
  });
});

describe('any conversation', () => {
  const workshop = workshopOf(SETTINGS, [plan]);
  const moment = (now: string): Moment => ({
    workshop,
    now,
    around: surroundings(workshop.settings, workshop.tools),
    jobNumbers: ['1042'],
    holdBack: 20,
  });
  const minute = (n: number): string =>
    new Date(Date.parse('2026-03-10T07:00:00Z') + n * 60_000).toISOString();
  const opened = openJob(
    {
      job: '1042',
      vehicle: 'bus 17',
      plan: plan.plan,
      positions: ['cylinder 3'],
      technician: 'Ada',
    },
    { id: 'o', by: 'Robin', roles: ['controller'], at: minute(0) },
    moment(minute(0)),
  ).state;
  // Each is several messages, each of which has the whole job checked.
  const runs = Math.max(30, Math.round(casesOf(1_500) / 50));
  it(`${runs} conversations: each message is on record once, word for word, and the checks never fail`, () => {
    fc.assert(
      fc.property(fc.array(wildText, { minLength: 1, maxLength: 5 }), (texts) => {
        let state = opened;
        const said: string[] = [];
        for (const [n, text] of texts.entries()) {
          const at = minute(n + 1);
          const turn = hear(
            state,
            {
              ...{ id: `m${n}`, channel: 'bench', at, by: 'Ada', roles: ['technician'] },
              ...{ message: `bench:yard:m${n}`, text },
            },
            moment(at),
          );
          if (turn.needs !== undefined) {
            // A word for the whole workshop, such as "open job": nothing of this job, and answered by the floor.
            expect(turn).toEqual({ state, events: [], posts: [], needs: turn.needs });
            continue;
          }
          said.push(text);
          state = turn.state;
          const kept = state.events.flatMap((event) =>
            event.kind === 'message-posted' ? [event.text] : [],
          );
          expect(kept).toEqual(said);
          for (const post of turn.posts) expect(() => JSON.stringify(post)).not.toThrow();
        }
      }),
      { numRuns: runs, seed: SEED },
    );
  });
});
