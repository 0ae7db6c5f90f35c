// The whole day in a workshop on the stand-in for Slack, calm and with everything that goes wrong: is anything lost or said
// twice, and how many messages a second go through everything, requests and a synced disk included.
import { daySlack } from '../chat/slack/day/day-slack.ts';
import { diskStore } from '../chat/slack/day/day-store.ts';
import { makeDay, SHORT_DAY, WHOLE_DAY } from '../chat/slack/day/make-day.ts';
import { differingJobs, faultsOf, inNumbers } from '../chat/slack/day/outcome.ts';
import { DAY_PLANS } from '../chat/slack/day/plans.ts';
import { CALM, type Played, playDay, STORM, type Weather } from '../chat/slack/day/run-day.ts';

const lines = (numbers: Readonly<Record<string, number>>): string =>
  Object.entries(numbers)
    .filter(([, value]) => value > 0)
    .map(([name, value]) => `    ${String(value).padStart(6)}  ${name}`)
    .join('\n');

/** `CHARGEHAND_DAY=short` takes the short day, for a look. */
export const run = async (): Promise<void> => {
  const size = process.env.CHARGEHAND_DAY === 'short' ? SHORT_DAY : WHOLE_DAY;
  const day = makeDay(1, size, DAY_PLANS);
  console.log(
    `  ${size.technicians} technicians, ${size.jobs} jobs, ${size.messages} messages, Slack over HTTP, a folder on the disk`,
  );
  const played = async (name: string, weather: Weather): Promise<Played> => {
    const begin = performance.now();
    const one = await playDay({
      day,
      plans: DAY_PLANS,
      platform: daySlack('http'),
      store: diskStore,
      weather,
    });
    const seconds = (performance.now() - begin) / 1000;
    console.log(
      `  ${name}: ${seconds.toFixed(0)} s, ${(size.messages / seconds).toFixed(1)} messages a second\n${lines(inNumbers(one, day))}`,
    );
    console.log(`   thrown at it:\n${lines(one.thrown) || '         nothing'}`);
    const faults = faultsOf(one, day);
    console.log(`   faults: ${faults.length}${faults.map((fault) => `\n    ${fault}`).join('')}`);
    if (faults.length > 0) process.exitCode = 1;
    return one;
  };
  const calm = await played('calm', CALM);
  const storm = await played('with everything that goes wrong', STORM);
  const differ = differingJobs(calm, storm, day, DAY_PLANS);
  console.log(
    `  jobs whose record differs from the calm one: ${differ.length} of ${size.jobs}${differ.length > 0 ? ` (${differ.join(', ')})` : ''}`,
  );
  if (differ.length > 0) process.exitCode = 1;
};
