// The README's wrong plan and what `plan check` says of it.
import { formatComplaint, planCheck } from '../../src/job/plan-check.ts';

export const WRONG_PLAN = `plan: belt
title: Renew the belt
machine: a demonstration engine
notice: Demonstration values; the maker's current data comes first.
steps:
  - id: remove-belt
    title: Take the belt off
    phase: strip
    after: [slaken-tensioner]
  - id: slacken-tensioner
    title: Slacken the tensioner
    phase: strip
    weigth: routine
  - id: set-tension
    title: Set the belt tension
    phase: refit
    weight: damage-critical
    after: [remove-belt]
    report:
      - {kind: quantity, of: tension, unit: mm, min: 12, max: 8}
`;

export const wrongPlan = (): string =>
  [
    '```yaml',
    WRONG_PLAN.trimEnd(),
    '```',
    '',
    '```',
    ...planCheck(WRONG_PLAN, 'belt.yaml').complaints.map((complaint) =>
      formatComplaint('belt.yaml', complaint),
    ),
    '```',
  ].join('\n');
