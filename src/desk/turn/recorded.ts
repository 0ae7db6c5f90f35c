// Which acts add to the record, so that the message they were read from counts as noted.
import type { Act } from '../../../shared/reading.ts';

const KINDS: ReadonlySet<Act['kind']> = new Set([
  'done',
  'started',
  'partial',
  'not-done',
  'corrects',
  'retracts',
  'blocked',
  'resumed',
  'finding',
  'clock',
]);

export const isRecorded = (act: Pick<Act, 'kind' | 'command'>): boolean =>
  KINDS.has(act.kind) || act.command === 'odometer';
