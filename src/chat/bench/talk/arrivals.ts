// Deliveries between "written down" and "taken in by the floor". After a crash they are handed in again.
import path from 'node:path';
import { Delivery } from '../../../../shared/delivery.ts';
import type { BenchLog } from '../bench-options.ts';
import { openLineFile } from './line-file.ts';

export type Arrivals = {
  /** What was written down and not known to be taken in, by whoever is gone since. */
  readonly left: () => Promise<readonly Delivery[]>;
  /** Writes a delivery down, synced. */
  readonly hold: (delivery: Delivery) => Promise<void>;
  /** The floor has it. The file is emptied when it has everything. */
  readonly release: (delivery: Delivery) => Promise<void>;
  readonly isHeld: (id: string) => boolean;
  /**
   * Held since this start. What was left from before is shown at once: it may well have been acknowledged, and it is
   * handed in again in any case.
   */
  readonly isHeldNew: (id: string) => boolean;
  readonly close: () => Promise<void>;
};

/** Below this the file is left to grow: emptying costs a disk access. */
const EMPTY_FROM_BYTES = 64 * 1024;

export async function openArrivals(folder: string, log?: BenchLog): Promise<Arrivals> {
  const { lines, values } = await openLineFile(path.join(folder, 'arrivals.jsonl'), log);
  const left = new Map<string, Delivery>();
  for (const value of values) {
    const delivery = Delivery.safeParse(value);
    if (delivery.success) left.set(delivery.data.id, delivery.data);
    else log?.warn({}, 'An arrival in an unknown form was passed over');
  }
  const held = new Set(left.keys());
  const heldNew = new Set<string>();
  return {
    left: async () => [...left.values()],
    hold: async (delivery) => {
      if (!held.has(delivery.id)) heldNew.add(delivery.id);
      held.add(delivery.id);
      await lines.append(delivery);
    },
    release: async ({ id }) => {
      held.delete(id);
      heldNew.delete(id);
      if (held.size === 0 && lines.bytes() > EMPTY_FROM_BYTES) await lines.empty();
    },
    isHeld: (id) => held.has(id),
    isHeldNew: (id) => heldNew.has(id),
    close: async () => {
      if (held.size === 0 && lines.bytes() > 0) await lines.empty();
      await lines.close();
    },
  };
}
