// How fast messages are read, beside chrono-node (times only) and compromise (numbers, times, durations), on the same
// messages in the same run, and what each of the three gets right of the messages with figures and times.
import * as chrono from 'chrono-node';
import nlp from 'compromise';
import type { Act } from '../../shared/reading.ts';
import { english } from '../../src/language/packs/en/index.ts';
import { readMessage } from '../../src/language/read.ts';
import { contextOf, type Label, lexiconOf, readLabels, readPlans } from '../corpus/score.ts';

type Reader = { readonly name: string; readonly read: (label: Label) => unknown };

const WARM_UP = 20;
const ROUNDS = 10;

/**
 * Messages a second of processor time for each reader, the best of its rounds. Each is warmed up before it is
 * measured, and all are measured twice in turn, so that whatever else the machine does falls on all of them alike.
 */
function rates(readers: readonly Reader[], labels: readonly Label[]): number[] {
  const best = readers.map(() => 0);
  for (let turn = 0; turn < 2; turn += 1) {
    readers.forEach((reader, at) => {
      for (let round = -WARM_UP; round < ROUNDS; round += 1) {
        const before = process.cpuUsage();
        for (const label of labels) reader.read(label);
        const used = process.cpuUsage(before);
        const rate = (labels.length * 1_000_000) / Math.max(1, used.user + used.system);
        if (round >= 0) best[at] = Math.max(best[at] ?? 0, rate);
      }
    });
  }
  return best;
}

type Sized = { readonly value: number; readonly unit: string };

const sizedIn = (acts: readonly Partial<Act>[]): Sized[] =>
  acts.flatMap((act) => [
    ...(act.quantity ? [act.quantity] : []),
    ...(act.angle ? [act.angle] : []),
  ]);

/** The clock time of a label or act, as HH:MM. */
const clockOf = (time: string): string => /(?:T|^)(\d{2}:\d{2})/.exec(time)?.[1] ?? '';

const clocksIn = (acts: readonly Partial<Act>[]): string[] =>
  acts.flatMap((act) => (act.time === undefined ? [] : [clockOf(act.time)]));

type Found = { readonly sized: readonly Sized[]; readonly clocks: readonly string[] };

const near = (a: number, b: number) => Math.abs(a - b) < 1e-9;

/** Compromise's numbers with the unit behind them, spelled as ours are where our list knows the word. */
function byCompromise(label: Label): Found {
  const doc = nlp(label.text);
  const numbers = doc.numbers().json() as { number?: { num?: number; unit?: string } }[];
  const sized = numbers.flatMap(({ number }) =>
    number?.num === undefined
      ? []
      : [{ value: number.num, unit: english.units[(number.unit ?? '').toLowerCase()] ?? '' }],
  );
  const times = doc.match('#Time+').out('array') as string[];
  doc.match('#Duration+').out('array');
  const clocks = times.flatMap((text) => {
    const found = /(\d{1,2}):(\d{2})\s*(pm)?/i.exec(text);
    if (!found) return [];
    const hour = Number(found[1]) + (found[3] && Number(found[1]) < 12 ? 12 : 0);
    return [`${String(hour).padStart(2, '0')}:${found[2]}`];
  });
  return { sized, clocks };
}

const two = (value: number | null) => String(value ?? 0).padStart(2, '0');

/** Chrono reads times only; the day of posting is given to it as it is to ours. */
function byChrono(label: Label): Found {
  const from = label.at === undefined ? undefined : new Date(label.at.slice(0, 19));
  const clocks = chrono
    .parse(label.text, from)
    .filter((one) => one.start.isCertain('hour'))
    .map((one) => `${two(one.start.get('hour'))}:${two(one.start.get('minute'))}`);
  return { sized: [], clocks };
}

/** Prints rates and exactness. */
export function run(): void {
  const plans = readPlans();
  const labels = readLabels().filter(
    (label) => label.lang === 'en' && !label.heldout && plans.has(label.plan),
  );
  const ours = (label: Label): readonly Act[] => {
    const plan = plans.get(label.plan);
    return plan ? readMessage(label.text, lexiconOf(plan), contextOf(label)).acts : [];
  };
  const some = labels.filter((_, at) => at % 4 === 0);
  const readers: readonly Reader[] = [
    { name: 'this reader, the whole reading', read: ours },
    { name: 'chrono-node, times', read: (label) => chrono.parse(label.text) },
    { name: 'compromise, numbers, times, durations', read: byCompromise },
  ];
  const best = rates(readers, some);
  const compromise = best[2] ?? 1;
  console.log(
    `${some.length} messages, the same for all, in turns; messages a second of processor time`,
  );
  readers.forEach((reader, at) => {
    const rate = best[at] ?? 0;
    console.log(
      `${reader.name.padEnd(38)}${rate.toFixed(0).padStart(8)}/s${(rate / compromise).toFixed(1).padStart(7)} x compromise`,
    );
  });
  exactness(labels, ours);
}

function exactness(labels: readonly Label[], ours: (label: Label) => readonly Act[]): void {
  const figures = labels.filter((label) => !label.ask && sizedIn(label.acts).length > 0);
  const times = labels.filter((label) => !label.ask && clocksIn(label.acts).length > 0);
  const timeless = labels.filter((label) => clocksIn(label.acts).length === 0);
  const readers: readonly (readonly [name: string, find: (label: Label) => Found])[] = [
    [
      'this reader',
      (label) => {
        const acts = ours(label);
        return { sized: sizedIn(acts), clocks: clocksIn(acts) };
      },
    ],
    ['chrono-node', byChrono],
    ['compromise', byCompromise],
  ];
  console.log(
    `\nRight of           ${figures.length} with figures   value and unit   ${times.length} with a time   false times in ${timeless.length} without`,
  );
  for (const [name, find] of readers) {
    const has = (label: Label, unit: boolean) => {
      const { sized } = find(label);
      return sizedIn(label.acts).every((want) =>
        sized.some((one) => near(one.value, want.value) && (!unit || one.unit === want.unit)),
      );
    };
    const values = figures.filter((label) => has(label, false)).length;
    const units = figures.filter((label) => has(label, true)).length;
    const clock = times.filter((label) => {
      const { clocks } = find(label);
      return clocksIn(label.acts).every((want) => clocks.includes(want));
    }).length;
    const wrong = timeless.filter((label) => find(label).clocks.length > 0).length;
    console.log(
      `${name.padEnd(20)}${String(values).padStart(13)}${String(units).padStart(17)}${String(clock).padStart(14)}${String(wrong).padStart(19)}`,
    );
  }
}

if (process.argv[1]?.endsWith('reading.ts')) run();
