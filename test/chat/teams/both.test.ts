// One job followed from Slack and from Teams: one thread in each, each flag once in each, and one record.

import { readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Channel } from '../../../src/chat/channel.ts';
import { workshopOf } from '../../../src/desk/workshop.ts';
import { makeFloor, type RunningFloor } from '../../../src/floor/floor.ts';
import { loadPlan } from '../../../src/job/load-plan.ts';
import { jobFileStore } from '../../../src/store/job-file-store.ts';
import type { Door } from '../../conversations/floor-stage.ts';
import { parseScript } from '../../conversations/script.ts';
import { slackDoor } from '../../conversations/slack-door.ts';
import { settingsOf } from '../../conversations/stage.ts';
import { stoppedClock } from '../../conversations/stopped-clock.ts';
import { teamsDoor } from '../../conversations/teams-door.ts';

const PLAN = readFileSync(
  new URL('../../../data/plans/coolant-pump.yaml', import.meta.url),
  'utf8',
);
const SCRIPT = parseScript(
  'Both\nplan coolant-pump\njob 2002 bus 18\npeople Ada technician, Robin controller\n\n07:00 Ada: chocked\n  noted\n',
);

type Seen = { readonly thread: string | undefined; readonly text: string };

/** Notes what a channel was given to show. */
const watched = (channel: Channel): { readonly channel: Channel; readonly seen: Seen[] } => {
  const seen: Seen[] = [];
  return {
    seen,
    channel: {
      ...channel,
      post: (place, card, key) => {
        seen.push({ thread: place.thread, text: card.text });
        return channel.post(place, card, key);
      },
    },
  };
};

const withBoth = async (
  play: (parts: {
    readonly slack: Door;
    readonly teams: Door;
    readonly seen: { readonly slack: Seen[]; readonly teams: Seen[] };
    readonly floor: RunningFloor;
    readonly calm: () => Promise<void>;
    readonly at: (time: string) => Promise<void>;
  }) => Promise<void>,
): Promise<void> => {
  const folder = await mkdtemp(join(tmpdir(), 'chargehand-both-'));
  const clock = stoppedClock('2026-03-10T06:59:00.000Z');
  const settings = settingsOf(SCRIPT);
  let running: RunningFloor | undefined;
  const parts = {
    folder,
    clock,
    settings,
    running: () => {
      if (!running) throw new Error('not yet');
      return running;
    },
  };
  const slack = await slackDoor('http')(parts);
  const teams = await teamsDoor(parts);
  const onSlack = watched(slack.channel);
  const onTeams = watched(teams.channel);
  const { plan } = loadPlan(PLAN, 'coolant-pump');
  if (!plan) throw new Error('The plan has errors.');
  const floor = makeFloor({
    store: jobFileStore(join(folder, 'jobs'), { clock: clock.now }),
    workshop: workshopOf(settings, [plan], []),
    channels: [onSlack.channel, onTeams.channel],
    homes: { slack: slack.home, teams: teams.home },
    planOf: (text, id) => loadPlan(text, id).plan,
    schedule: clock.schedule,
    clock: clock.now,
    log: (level, what, more) => {
      if (level === 'error') throw new Error(`${what}: ${JSON.stringify(more)}`);
    },
  });
  running = floor;
  await floor.floor.store.open();
  await floor.start();
  const calm = async (): Promise<void> => {
    for (let looks = 0; looks < 400; looks += 1) {
      await floor.idle();
      if (floor.backlog() === 0) return;
      await new Promise((done) => setTimeout(done, 5));
    }
    throw new Error('The floor did not come to rest.');
  };
  try {
    await play({
      slack,
      teams,
      seen: { slack: onSlack.seen, teams: onTeams.seen },
      floor,
      calm,
      at: (time) => clock.until(`2026-03-10T${time}:00.000Z`, calm),
    });
  } finally {
    await floor.stop();
    await slack.end?.();
    await teams.end?.();
    await rm(folder, { recursive: true, force: true });
  }
};

describe('Slack and Teams at once', () => {
  it('follow one job, with one thread in each', async () => {
    await withBoth(async ({ slack, teams, seen, floor, calm, at }) => {
      await slack.post('Robin', 'open job 2002 bus 18 Renew the coolant pump tech Ada', undefined);
      await calm();
      const { threads } = (await floor.floor.shelved('2002')) ?? { threads: [] };
      expect(threads.map(({ channel }) => channel).sort()).toEqual(['slack', 'teams']);
      const threadOn = (name: string) => threads.find(({ channel }) => channel === name)?.thread;
      await at('07:01');
      await slack.post('Ada', 'handbrake on and chocked', threadOn('slack'));
      await calm();
      await at('07:03');
      await teams.post('Ada', 'engine is cold, 20 deg', threadOn('teams'));
      await calm();
      await at('07:05');
      await teams.post('Ada', 'battery isolated', threadOn('teams'));
      await calm();
      const job = await floor.floor.shelved('2002');
      const done = (job?.state.view.steps ?? []).filter(({ state }) => state === 'done');
      expect(done.map(({ step }) => step).sort()).toEqual(
        ['chock-wheels', 'isolate-battery', 'let-cool'].sort(),
      );
      await at('07:08');
      await slack.post('Ada', 'cap off', threadOn('slack'));
      await teams.post('Ada', 'pump off', threadOn('teams'));
      await calm();
      await at('07:12');
      for (const each of [seen.slack, seen.teams]) {
        const stops = each.filter(({ text }) => text.includes('Drain the coolant'));
        expect(stops.length).toBeGreaterThan(0);
        const inThread = each.filter(
          ({ thread, text }) => thread !== undefined && text.includes('Skipped'),
        );
        expect(new Set(inThread.map(({ text }) => text)).size).toBe(inThread.length);
      }
      expect((await floor.floor.shelved('2002'))?.threads).toHaveLength(2);
    });
  });
});
