// Messages on the plans of this folder, with what was said in them: one a line, "text => acts".
import { readdirSync, readFileSync } from 'node:fs';
import type { Act, ActKind } from '../../../shared/reading.ts';
import { type Label, readPlans } from '../../corpus/score.ts';

const folder = new URL('./', import.meta.url);

export const otherPlans = readPlans(folder);

/** "done fit-spring @left,right =66 N.m #2 x4": kind, step, places, figure, stage, count. */
function actOf(text: string): Partial<Act> {
  const [kind = '', step, ...rest] = text.trim().split(/\s+/);
  const act: Record<string, unknown> = { kind: kind as ActKind, positions: [] };
  if (step !== undefined) act.step = step;
  rest.forEach((word, at) => {
    const value = word.slice(1);
    if (word.startsWith('@')) act.positions = value.split(',');
    if (word.startsWith('=')) act.quantity = { value: Number(value), unit: rest[at + 1] };
    if (word.startsWith('#')) act.stage = Number(value);
    if (word.startsWith('by:')) act.by = word.slice(3);
    if (word.startsWith('x')) act.count = { done: Number(value) };
  });
  return act as Partial<Act>;
}

/** Every message with its label; a question is allowed where the acts are "?". */
export function otherMessages(): Label[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.txt'))
    .sort()
    .flatMap((name) => {
      const begins = name.replace('.txt', '');
      const plan = [...otherPlans.keys()].find((one) => one.startsWith(begins)) ?? begins;
      return readFileSync(new URL(name, folder), 'utf8')
        .split('\n')
        .filter((line) => line.includes(' => '))
        .map((line, at): Label => {
          const [text = '', said = ''] = line.split(' => ');
          const none = said === '-' || said === '?';
          return {
            id: `${begins}-${at + 1}`,
            plan,
            text,
            acts: none ? [] : said.split(';').map(actOf),
            ...(said === '?' ? { ask: true } : {}),
            tags: [],
            lang: 'en',
            manner: 'plain',
            heldout: false,
          };
        });
    });
}
