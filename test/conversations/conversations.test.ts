// Every conversation, on the desk alone and on each channel.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/job/load-plan.ts';
import { benchDoor } from './bench-door.ts';
import { deskStage } from './desk-stage.ts';
import { floorStage } from './floor-stage.ts';
import { play } from './play.ts';
import { parseScript } from './script.ts';
import { slackDoor } from './slack-door.ts';
import type { MakeStage } from './stage.ts';
import { teamsDoor } from './teams-door.ts';

const HERE = import.meta.dirname;
/** Plans of their own, where a conversation is about something that no shipped plan asks for. */
const PLANS = [join(HERE, 'plans'), join(HERE, '..', '..', 'data', 'plans')];

const stages: readonly (readonly [string, MakeStage])[] = [
  ['the desk alone', deskStage],
  ['the bench', floorStage('bench', benchDoor)],
  ['Slack over HTTP', floorStage('slack', slackDoor('http'))],
  ['Slack over the socket', floorStage('slack', slackDoor('socket'))],
  ['Teams', floorStage('teams', teamsDoor)],
];

describe.each(stages)('on %s', (_name, make) => {
  for (const file of readdirSync(HERE)
    .filter((name) => name.endsWith('.txt'))
    .sort()) {
    const script = parseScript(readFileSync(join(HERE, file), 'utf8'));
    it(`${file}: ${script.title}`, async () => {
      const file = PLANS.map((folder) => join(folder, `${script.plan}.yaml`)).find(existsSync);
      const { plan } = file ? loadPlan(readFileSync(file, 'utf8'), script.plan) : {};
      if (!plan) throw new Error(`The plan ${script.plan} has errors.`);
      expect(await play(script, plan, make)).toEqual([]);
    });
  }
});
