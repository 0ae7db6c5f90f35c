// How fast messages are read, beside chrono-node (times only) and compromise (numbers, times, durations), on the same
// messages in the same run, and what each gets right of the messages with figures.
import * as chrono from 'chrono-node';
import nlp from 'compromise';
import { readMessage } from '../../src/language/read.ts';
import { contextOf, type Label, lexiconOf, readLabels, readPlans } from '../corpus/score.ts';

type Row = { readonly name: string; readonly perSecond: number };

/** Messages a second of processor time, best of a few rounds, so that other work on the machine counts less. */
function rate(count: number, work: () => void, rounds = 4): number {
  let best = 0;
  for (let round = 0; round < rounds; round += 1) {
    const before = process.cpuUsage();
    work();
    const used = process.cpuUsage(before);
    best = Math.max(best, (count * 1_000_000) / Math.max(1, used.user + used.system));
  }
  return best;
}

/** The figures a label asks for: values of quantities and angles. */
const wanted = (label: Label): number[] =>
  label.acts.flatMap((act) => [
    ...(act.quantity ? [act.quantity.value] : []),
    ...(act.angle ? [act.angle.value] : []),
  ]);

/** Prints rates and exactness. */
export function run(): void {
  const plans = readPlans();
  const labels = readLabels().filter((label) => label.lang === 'en' && plans.has(label.plan));
  const figures = labels.filter((label) => wanted(label).length > 0);
  const few = labels.slice(0, 300);
  const ours = (label: Label) => {
    const plan = plans.get(label.plan);
    return plan ? readMessage(label.text, lexiconOf(plan), contextOf(label)).acts : [];
  };
  for (const label of labels) ours(label);
  const rows: Row[] = [
    {
      name: 'this reader, everything',
      perSecond: rate(labels.length, () =>
        labels.forEach((label) => {
          ours(label);
        }),
      ),
    },
    {
      name: 'chrono-node, times only',
      perSecond: rate(labels.length, () =>
        labels.forEach((label) => {
          chrono.parse(label.text);
        }),
      ),
    },
    {
      name: 'compromise, numbers',
      perSecond: rate(
        few.length,
        () =>
          few.forEach((label) => {
            nlp(label.text).match('#Value+ #Unit?').json();
          }),
        2,
      ),
    },
  ];
  const compromise = rows[2]?.perSecond ?? 1;
  for (const row of rows) {
    console.log(
      `${row.name.padEnd(26)}${row.perSecond.toFixed(0).padStart(8)} messages/s${(row.perSecond / compromise).toFixed(1).padStart(8)} x compromise`,
    );
  }
  const right = (values: (label: Label) => number[]) =>
    figures.filter((label) => wanted(label).every((value) => values(label).includes(value))).length;
  const oursRight = right((label) =>
    ours(label).flatMap((act) => [
      ...(act.quantity ? [act.quantity.value] : []),
      ...(act.angle ? [act.angle.value] : []),
    ]),
  );
  const theirs = right((label) =>
    (nlp(label.text).match('#Value').json() as { text: string }[]).map((one) =>
      Number(one.text.replace(/[^\d.-]/g, '')),
    ),
  );
  console.log(
    `Of ${figures.length} messages with figures the values are right in: this reader ${oursRight}, compromise ${theirs}; chrono-node reads no quantities.`,
  );
}

if (process.argv[1]?.endsWith('reading.ts')) run();
