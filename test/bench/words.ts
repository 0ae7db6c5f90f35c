// How much the bot says: words per job on the demonstration shift and on the conversations, the job sheet left out,
// since it is kept in place and calls nobody. A tidy job should be answered by reactions alone.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { demoJobs } from '../../src/cli/demo.ts';
import type { Post } from '../../src/desk/card.ts';
import { replay } from '../../src/desk/replay.ts';
import { readSettings } from '../../src/desk/settings-file.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import { deskStage } from '../conversations/desk-stage.ts';
import { parseScript } from '../conversations/script.ts';
import { onTheDay, settingsOf } from '../conversations/stage.ts';
import { ROOT } from '../layout/sources.ts';

export type Words = {
  readonly job: string;
  readonly messages: number;
  /** Posts that were not there before; what is changed in place calls nobody. */
  readonly posts: number;
  readonly words: number;
  /** Posts in the common channel, of all. */
  readonly inChannel: number;
};

const wordsIn = (text: string): number => text.split(/\s+/u).filter((word) => word !== '').length;

const planNamed = (name: string): Plan => {
  const file = [
    join(ROOT, 'data/plans', `${name}.yaml`),
    join(ROOT, 'test/conversations/plans', `${name}.yaml`),
  ].find(existsSync);
  const { plan } = file ? loadPlan(readFileSync(file, 'utf8'), name) : {};
  if (!plan) throw new Error(`The plan ${name} has errors or is not there.`);
  return plan;
};

/** Counts what is new among posts; `seen` keeps the keys. */
const counted = (posts: readonly Post[], seen: Set<string>): Omit<Words, 'job' | 'messages'> => {
  const fresh = posts.filter((post) => post.card && post.key !== 'sheet' && !seen.has(post.key));
  for (const { key } of fresh) seen.add(key);
  return {
    posts: fresh.length,
    words: fresh.reduce((sum, { card }) => sum + wordsIn(card?.text ?? ''), 0),
    inChannel: fresh.filter(({ to }) => to.where === 'channel').length,
  };
};

const demonstration = async (): Promise<readonly Words[]> => {
  const file = join(ROOT, 'data/demo/settings.yaml');
  const settings = readSettings(readFileSync(file, 'utf8'), file);
  return (await demoJobs()).map(({ job, plan, positions, transcript, vehicle }): Words => {
    const { moments } = replay(planNamed(plan), transcript, {
      job,
      vehicle,
      positions,
      ...(settings.ok ? { settings: settings.settings } : {}),
    });
    const seen = new Set<string>();
    return {
      job: `demonstration ${job}`,
      messages: transcript.length,
      ...counted(
        moments.flatMap(({ posts }) => posts),
        seen,
      ),
    };
  });
};

/** The conversation of a whole tidy job, played on the desk. */
const tidy = async (): Promise<Words> => {
  const script = parseScript(
    readFileSync(join(ROOT, 'test/conversations/whole-job-quiet.txt'), 'utf8'),
  );
  const first = script.lines[0]?.time ?? '07:00';
  const stage = await deskStage(
    script,
    planNamed(script.plan),
    settingsOf(script),
    onTheDay(first),
  );
  let [posts, words, inChannel] = [0, 0, 0];
  for (const line of script.lines) {
    await stage.until(onTheDay(line.time));
    if (line.does === 'says') await stage.say(line.by, line.text, onTheDay(line.time));
    const seen = await stage.look();
    posts += seen.news;
    inChannel += seen.channel.length;
    words += [...seen.thread, ...seen.channel].reduce((sum, text) => sum + wordsIn(text), 0);
  }
  await stage.end();
  return { job: `tidy ${script.job}`, messages: script.lines.length, posts, words, inChannel };
};

export const measure = async (): Promise<readonly Words[]> => [
  ...(await demonstration()),
  await tidy(),
];

/** Prints a line for each job. */
export const run = async (): Promise<readonly Words[]> => {
  const rows = await measure();
  console.log('Words the bot says, without the job sheet');
  console.log('job                  messages   posts  in channel   words  words a message');
  for (const { job, messages, posts, words, inChannel } of rows)
    console.log(
      `${job.padEnd(20)}${String(messages).padStart(9)}${String(posts).padStart(8)}${String(inChannel).padStart(12)}${String(words).padStart(8)}${(words / Math.max(1, messages)).toFixed(1).padStart(17)}`,
    );
  const conversations = readdirSync(join(ROOT, 'test/conversations')).filter((name) =>
    name.endsWith('.txt'),
  ).length;
  console.log(
    `In the ${conversations} conversations every line without words expected is held to none.`,
  );
  return rows;
};

if (process.argv[1] === import.meta.filename) await run();
