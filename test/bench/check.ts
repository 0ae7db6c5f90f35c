// What checking one new message costs on a job with 60 steps, and how the cost grows with the events before it. The peer
// in the same run is a round of JSON over the same events: what merely handing them on would cost.

import type { JobEvent } from '../../shared/event.ts';
import { check } from '../../src/job/check.ts';
import { done, opened, planOf, says } from '../job/story.ts';

const STEPS = 60;
const SIZES = [100, 250, 500, 1000, 2000];
const ROUNDS = 9;

const plan = planOf(
  Array.from({ length: STEPS }, (_, n) => ({
    id: `step-${n + 1}`,
    ...(n > 0 ? { after: [`step-${n}`] } : {}),
    ...(n % 5 === 0 ? { weight: 'safety-critical' as const, why: 'It holds the rest.' } : {}),
  })),
);

const clock = (minute: number): string =>
  `${String(6 + (Math.floor(minute / 60) % 16)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

/** A job with so many events: every step reported in order, again and again. Each message is two events. */
const jobOf = (events: number): readonly JobEvent[] => [
  opened(),
  ...Array.from({ length: Math.floor(events / 2) }, (_, n) =>
    says(`m${n}`, clock(n % 900), 'Tom', [done(`step-${(n % STEPS) + 1}`)]),
  ).flat(),
];

const milliseconds = (work: () => void): number => {
  const before = process.cpuUsage();
  work();
  const used = process.cpuUsage(before);
  return (used.user + used.system) / 1000;
};

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** The slope of the cost over the number of events, both as logarithms: 1 is linear. */
export const exponentOf = (points: readonly (readonly [x: number, y: number])[]): number => {
  const logs = points.map(([x, y]) => [Math.log(x), Math.log(y)] as const);
  const meanX = logs.reduce((sum, [x]) => sum + x, 0) / logs.length;
  const meanY = logs.reduce((sum, [, y]) => sum + y, 0) / logs.length;
  const across = logs.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0);
  return across / logs.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
};

export const run = (): void => {
  const now = '2026-05-12T23:30:00+02:00';
  console.log(
    `Checking a job with ${STEPS} steps after one more message (processor time, median of ${ROUNDS})`,
  );
  const points: (readonly [number, number])[] = [];
  for (const size of SIZES) {
    const events = jobOf(size);
    check(plan, events, now);
    const ours = median(
      Array.from({ length: ROUNDS }, () => milliseconds(() => void check(plan, events, now))),
    );
    const peer = median(
      Array.from({ length: ROUNDS }, () =>
        milliseconds(() => void JSON.parse(JSON.stringify(events))),
      ),
    );
    points.push([size, ours]);
    console.log(
      `  ${String(size).padStart(5)} events: ${ours.toFixed(2)} ms, ${(ours / Math.max(peer, 0.001)).toFixed(1)} times a round of JSON`,
    );
  }
  console.log(
    `  grows with the number of events to the power ${exponentOf(points).toFixed(2)} (1 is linear)`,
  );
};
