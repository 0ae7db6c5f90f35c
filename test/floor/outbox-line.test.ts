// The line of waiting posts against a plain list of them that is gone through from the front.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { outboxLine } from '../../src/floor/outbox-line.ts';
import type { OutboxEntry } from '../../src/store/job-store.ts';
import { START } from './workshop-floor.ts';

type Facts = { job: number; channel: 'bench' | 'slack'; urgent: boolean };
const entryOf = ({ job, channel, urgent }: Facts, id: number): OutboxEntry => ({
  ...{ id: `e${id}`, job: `10${job}`, channel, madeAt: START, tries: 0, state: 'waiting' },
  post: { key: 'k', to: { where: 'channel' }, card: { text: 't', blocks: [] }, edit: true, urgent },
});

const facts = fc.record({
  job: fc.nat(2),
  channel: fc.constantFrom<'bench' | 'slack'>('bench', 'slack'),
  urgent: fc.boolean(),
});
const step = fc.oneof(
  fc.record({ do: fc.constant('add' as const), facts }),
  fc.record({ do: fc.constantFrom('remove' as const, 'change' as const), at: fc.nat(30) }),
  fc.record({ do: fc.constant('give-way' as const), at: fc.nat(30) }),
);

it('holds what the list holds, in its order, by channel, job and urgency', () => {
  fc.assert(
    fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
      const line = outboxLine();
      let list: OutboxEntry[] = [];
      steps.forEach((each, number) => {
        if (each.do === 'add') {
          const entry = entryOf(each.facts, number);
          line.add(entry);
          list.push(entry);
          return;
        }
        const entry = list[each.at % Math.max(1, list.length)];
        if (!entry) return;
        if (each.do === 'remove') {
          line.remove(entry);
          list = list.filter((other) => other !== entry);
        } else if (each.do === 'change') {
          const changed: OutboxEntry = { ...entry, tries: entry.tries + 1 };
          line.change(changed);
          list = list.map((other) => (other === entry ? changed : other));
        } else {
          const newest = list.findLast(
            ({ job, channel }) => job === entry.job && channel === entry.channel,
          );
          if (!newest || newest === entry) return;
          line.giveWay(entry, newest);
          list = list.flatMap((other) =>
            other === entry ? [newest] : other === newest ? [] : [other],
          );
        }
      });
      expect(line.size()).toBe(list.length);
      expect(new Set(line.channels())).toEqual(new Set(list.map(({ channel }) => channel)));
      for (const channel of ['bench', 'slack'] as const) {
        const mine = list.filter((entry) => entry.channel === channel);
        expect([...line.of(channel)]).toEqual(mine);
        expect(line.sizeOf(channel)).toBe(mine.length);
        const urgent = [...line.urgentOf(channel)];
        expect(new Set(urgent)).toEqual(new Set(mine.filter(({ post }) => post.urgent)));
        for (const job of ['100', '101', '102'])
          expect(line.lane({ job, channel })).toEqual(mine.filter((entry) => entry.job === job));
      }
    }),
    { numRuns: 400, seed: 8 },
  );
});
