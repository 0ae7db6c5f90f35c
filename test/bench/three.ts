// A day in a workshop with three processes on one database, of which one is killed every few messages: is anything
// lost, said twice or out of order, and is each record that of a day in peace. It is the short day;
// `CHARGEHAND_WHOLE=1` takes the whole one, which runs for more than half an hour.

import { killableDatabase } from '../chat/slack/day/day-postgres.ts';
import { makeDay, SHORT_DAY, WHOLE_DAY } from '../chat/slack/day/make-day.ts';
import { comparable, faultsOf } from '../chat/slack/day/outcome.ts';
import { DAY_PLANS } from '../chat/slack/day/plans.ts';
import type { Played } from '../chat/slack/day/run-day.ts';
import {
  ONE_CALM,
  playThree,
  THREE_KILLED,
  type ThreeWeather,
} from '../chat/slack/day/three/play-three.ts';
import { hasPostgres, startCluster, WITHOUT_POSTGRES } from '../store/postgres/cluster.ts';

export const run = async (): Promise<void> => {
  if (!hasPostgres) return console.log(`The day with three processes ${WITHOUT_POSTGRES}`);
  const size = process.env.CHARGEHAND_WHOLE === undefined ? SHORT_DAY : WHOLE_DAY;
  const day = makeDay(1, size, DAY_PLANS);
  const cluster = await startCluster();
  try {
    const url = await cluster.database('three');
    const played = async (name: string, weather: ThreeWeather): Promise<Played> => {
      const begin = performance.now();
      const one = await playThree(day, DAY_PLANS, killableDatabase(url), weather);
      const seconds = (performance.now() - begin) / 1000;
      const faults = faultsOf(one, day);
      console.log(
        `  ${name}: ${size.messages} messages in ${seconds.toFixed(0)} s, ${one.thrown.kills} kills, ${one.acknowledged} deliveries acknowledged, faults: ${faults.length}${faults.map((fault) => `\n    ${fault}`).join('')}`,
      );
      if (faults.length > 0) process.exitCode = 1;
      return one;
    };
    const calm = await played('one process, in peace', ONE_CALM);
    const storm = await played('three processes, one killed again and again', THREE_KILLED);
    const { expected, found } = comparable(calm, storm, day, DAY_PLANS);
    const differ = Object.keys(expected).filter(
      (job) => JSON.stringify(expected[job]) !== JSON.stringify(found[job]),
    );
    console.log(`  jobs whose record differs from that in peace: ${differ.length} of ${size.jobs}`);
    if (differ.length > 0) process.exitCode = 1;
  } finally {
    await cluster.stop();
  }
};
