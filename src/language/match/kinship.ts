// How near two families of action are. Opposites never stand for one another.
import type { ActionClass } from '../pack.ts';

const NEAR: readonly (readonly [ActionClass, ActionClass, number])[] = [
  ['fit', 'renew', 0.85],
  ['fit', 'connect', 0.8],
  ['fit', 'press', 0.85],
  ['fit', 'close', 0.6],
  ['fit', 'lock', 0.4],
  ['fit', 'cap', 0.5],
  ['fit', 'enter', 0.3],
  ['fit', 'apply', 0.5],
  ['fit', 'lower', 0.3],
  ['fit', 'support', 0.3],
  ['remove', 'disconnect', 0.75],
  ['remove', 'open', 0.5],
  ['remove', 'drain', 0.35],
  ['remove', 'renew', 0.2],
  ['remove', 'press', 0.4],
  ['remove', 'loosen', 0.4],
  ['remove', 'lower', 0.4],
  ['remove', 'release', 0.4],
  ['check', 'measure', 0.85],
  ['check', 'test', 0.85],
  ['check', 'read', 0.5],
  ['check', 'adjust', 0.4],
  ['measure', 'test', 0.6],
  ['measure', 'adjust', 0.55],
  ['measure', 'read', 0.5],
  ['disconnect', 'isolate', 0.85],
  ['isolate', 'stop', 0.5],
  ['isolate', 'lock', 0.4],
  ['drain', 'relieve', 0.4],
  ['drain', 'bleed', 0.3],
  ['fill', 'bleed', 0.3],
  ['fill', 'grease', 0.4],
  ['bleed', 'prime', 0.7],
  ['bleed', 'relieve', 0.4],
  ['lift', 'support', 0.7],
  ['support', 'chock', 0.5],
  ['adjust', 'tighten', 0.35],
  ['tighten', 'fit', 0.3],
  ['tighten', 'lock', 0.5],
  ['clear', 'clean', 0.3],
  ['enter', 'read', 0.15],
  ['open', 'release', 0.6],
  ['loosen', 'release', 0.6],
  ['loosen', 'open', 0.4],
  ['grease', 'apply', 0.8],
  ['start', 'test', 0.4],
  ['drive', 'test', 0.6],
  ['start', 'warm', 0.5],
  ['turn', 'start', 0.3],
  ['mark', 'cap', 0.1],
  ['cap', 'close', 0.6],
  ['connect', 'close', 0.3],
  ['check', 'sign', 0.4],
];

const OPPOSITE: readonly (readonly [ActionClass, ActionClass])[] = [
  ['remove', 'fit'],
  ['remove', 'connect'],
  ['disconnect', 'connect'],
  ['disconnect', 'fit'],
  ['isolate', 'connect'],
  ['tighten', 'loosen'],
  ['tighten', 'remove'],
  ['drain', 'fill'],
  ['lift', 'lower'],
  ['support', 'lower'],
  ['open', 'close'],
  ['start', 'stop'],
  ['lock', 'unlock'],
  ['apply', 'release'],
  ['warm', 'cool'],
  ['loosen', 'fit'],
];

const table = new Map<ActionClass, Map<ActionClass, number>>();
function put(a: ActionClass, b: ActionClass, score: number): void {
  const row = table.get(a) ?? new Map<ActionClass, number>();
  if (!row.has(b)) row.set(b, score);
  table.set(a, row);
}
for (const [a, b, score] of NEAR) {
  put(a, b, score);
  put(b, a, score);
}
for (const [a, b] of OPPOSITE) {
  put(a, b, -1);
  put(b, a, -1);
}

/** 1 for the same family, 0 for strangers, -1 for opposites. */
export function kinship(a: ActionClass, b: ActionClass): number {
  return a === b ? 1 : (table.get(a)?.get(b) ?? 0);
}

/** The nearest pair of two lists; -1 only if nothing is near and something is opposite. */
export function nearest(said: readonly ActionClass[], wanted: readonly ActionClass[]): number {
  let best = 0;
  let opposite = false;
  for (const a of said) {
    for (const b of wanted) {
      const near = kinship(a, b);
      if (near < 0) opposite = true;
      else if (near > best) best = near;
    }
  }
  return best < 0.5 && opposite ? -1 : best;
}

const AGAINST: Readonly<Partial<Record<ActionClass, readonly ActionClass[]>>> = {
  fit: ['remove', 'disconnect'],
  connect: ['disconnect', 'isolate', 'remove'],
  renew: ['remove'],
  remove: ['fit', 'connect'],
  disconnect: ['connect', 'fit'],
  isolate: ['connect'],
  stop: ['start', 'connect'],
  tighten: ['loosen'],
  loosen: ['tighten'],
  drain: ['fill'],
  fill: ['drain'],
  enter: ['remove'],
  lift: ['lower'],
  support: ['lower'],
  lower: ['lift'],
  open: ['close'],
  close: ['open'],
  lock: ['unlock'],
  apply: ['release'],
  cap: ['remove'],
};

/** What has not happened where a thing is still as these families left it: a cover still on is not off. */
export function against(classes: readonly ActionClass[]): readonly ActionClass[] {
  const out = classes.flatMap((one) => AGAINST[one] ?? []);
  return out.length > 0 ? [...new Set(out)] : ['remove', 'lower', 'relieve', 'release'];
}
