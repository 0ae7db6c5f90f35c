// A plan with an old code, the label of a new part and its entry, shared by the tests of the code rules.
import { cyl, done, opened, planOf, SIX, says } from '../story.ts';

const code = (of: string, todo: 'read' | 'enter') => ({
  kind: 'code' as const,
  of,
  do: todo,
  form: 'X{6}',
  alphabet: 'ABCDEFGHJKLMNPRSTUVWXYZ0123456789',
});
export const plan = planOf(
  [
    { id: 'old', each: 'cylinders', report: [code('old-code', 'read')] },
    {
      id: 'read',
      each: 'cylinders',
      weight: 'damage-critical',
      report: [code('trim-code', 'read')],
    },
    {
      id: 'enter',
      title: 'Enter the code',
      each: 'cylinders',
      weight: 'damage-critical',
      report: [code('trim-code', 'enter')],
    },
  ],
  { positions: SIX },
);
export const on = opened({ positions: cyl(1, 2) });
export const coded = (id: string, clock: string, step: string, at: number, text: string) =>
  says(id, clock, 'Tom', [done(step, { code: text }, cyl(at))]);
