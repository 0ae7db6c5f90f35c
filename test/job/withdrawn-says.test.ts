import { expect, it } from 'vitest';
import { withdrawnSays } from '../../src/job/withdrawn-says.ts';
import { answers, at, done, litres, overrides, planOf, says, viewOf } from './story.ts';

const plan = planOf(
  [
    {
      id: 'drain',
      title: 'Drain it',
      weight: 'damage-critical',
      report: [{ kind: 'drained', fluid: 'coolant' }],
    },
    { id: 'open', title: 'Open it', after: ['drain'] },
    { id: 'wash' },
    { id: 'dry', after: ['wash'] },
  ],
  { fluids: { coolant: { title: 'coolant' } } },
);
const open = says('m1', '10:00', 'Tom', [done('open')]);
const drained = (time?: string) =>
  says('m2', '10:10', 'Tom', [
    done('drain', { quantity: litres(20), ...(time !== undefined && { time }) }),
  ]);

const gone = (story: Parameters<typeof viewOf>[1]): string | undefined => {
  const view = viewOf(plan, story);
  const [flag] = view.flags.filter(({ clearedBy }) => clearedBy !== undefined);
  const report = view.reports.find(({ message }) => flag?.clearedBy?.includes(message));
  return flag?.how && withdrawnSays(flag, flag.how, report);
};

it('told later that it was done before', () => {
  expect(gone([open, drained(at('09:40'))])).toBe('Done before, at 09:40.');
});

it('released by the controller', () => {
  expect(gone([open, overrides('skipped|drain||', '10:05')])).toBe(
    'Released by the controller with a reason.',
  );
});

it('a step that waited for its release', () => {
  expect(
    withdrawnSays({ rule: 'not-released', says: 'Not released: "x".' }, 'settled', undefined),
  ).toBe('Released.');
});

it('a routine step done afterwards is a remark', () => {
  const story = [
    says('m1', '10:00', 'Tom', [done('dry')]),
    says('m2', '10:10', 'Tom', [done('wash')]),
  ];
  const after = [story, answers(viewOf(plan, story), 'before-or-after', 1, '10:11')];
  expect(gone(after)).toBe('Done afterwards, at 10:10; a routine step, noted in the record.');
});

it('one that is not is settled by the controller', () => {
  const story = [open, drained(at('10:05'))];
  expect(gone([story, overrides('skipped|drain||', '10:20')])).toBe(
    'Done afterwards; settled by the controller with a reason.',
  );
});
