// The README's "what you can type": messages of the labelled corpora with what their labels say they mean.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Act } from '../../shared/reading.ts';
import { actWords } from '../../src/desk/answers/what-read.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import { ROOT } from '../layout/sources.ts';
import { CHOSEN } from './type-table-rows.ts';

type Row = {
  readonly id: string;
  readonly plan: string;
  readonly text: string;
  readonly at?: string;
  readonly acts: readonly Partial<Act>[];
};

export const corpusRows = (): ReadonlyMap<string, Row> => {
  const folder = join(ROOT, 'data/corpus');
  const rows = readdirSync(folder)
    .filter((name) => name.endsWith('.jsonl') && !name.includes('heldout'))
    .flatMap((name) =>
      readFileSync(join(folder, name), 'utf8')
        .split('\n')
        .filter((row) => row.trim() !== ''),
    )
    .map((row) => JSON.parse(row) as Row);
  return new Map(rows.map((row) => [row.id, row]));
};

const plans = new Map<string, Plan>();
export const planOf = (name: string): Plan => {
  const known = plans.get(name);
  if (known) return known;
  const { plan } = loadPlan(readFileSync(join(ROOT, 'data/plans', `${name}.yaml`), 'utf8'), name);
  if (!plan) throw new Error(`The plan ${name} has errors.`);
  plans.set(name, plan);
  return plan;
};

export const typeTable = (): string => {
  const rows = corpusRows();
  const table = CHOSEN.map(({ id, heading }) => {
    const row = rows.get(id);
    if (!row)
      throw new Error(
        `The corpus has no message ${id} any more. Choose another in test/docs/type-table-rows.ts.`,
      );
    const plan = planOf(row.plan);
    const means =
      row.acts
        .map((act) =>
          actWords({ plan }, {
            positions: [],
            assumed: [],
            span: [0, 0],
            kind: 'done',
            ...act,
          } as Act),
        )
        .join('; ') || 'nothing: ordinary talk';
    return `| ${heading} | ${row.text.replaceAll('|', '\\|').replaceAll('\n', ' / ')} | ${means} |`;
  });
  return ['| to | you type | it is read as |', '| --- | --- | --- |', ...table].join('\n');
};
