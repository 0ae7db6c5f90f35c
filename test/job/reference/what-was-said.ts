// The messages of a job as a list of plain statements, oldest first by the time at which the work was done.
import type { JobEvent } from '../../../shared/event.ts';
import type { PlanFile, Step } from '../../../shared/plan.ts';
import type { Act } from '../../../shared/reading.ts';
import { type Box, type Paper, positionsOf } from './job-on-paper.ts';

export type Statement = {
  readonly message: string;
  readonly kind: 'done' | 'started' | 'partial';
  /** Null for a watched act. */
  readonly box: Box | null;
  readonly watched: string | null;
  readonly act: Act;
  readonly when: number;
  readonly posted: number;
  readonly timeSaid: boolean;
  readonly worker: string;
  readonly reporter: string;
};

export type Heard = {
  readonly statements: readonly Statement[];
  /** Step and position of reports at a position that is not on the job. */
  /** Watched acts, and reports of steps at no position of the job. */
  readonly unplaced: readonly {
    readonly what: Step | NonNullable<PlanFile['watched']>[number];
    readonly when: number;
  }[];
  readonly elsewhere: readonly {
    readonly step: string;
    readonly position: string;
    readonly message: string;
  }[];
};

const WITHIN = 1 / 64;

/** The end of a moment: everything said at that time, in whatever order it stands in the message. */
export const endOf = (when: number): number => Math.floor(when) + 0.5;

const WORK: readonly string[] = ['done', 'started', 'partial'];

export function whatWasSaid(paper: Paper, events: readonly JobEvent[]): Heard {
  const statements: Statement[] = [];
  const unplaced: Heard['unplaced'][number][] = [];
  const elsewhere: { step: string; position: string; message: string }[] = [];
  for (const event of events) {
    if (event.kind !== 'message-posted') continue;
    if (
      events.some((other) => other.kind === 'message-deleted' && other.message === event.message)
    ) {
      continue;
    }
    // The last edit counts, at the time of the message.
    const read = events.findLast(
      (other) => other.kind === 'message-read' && other.message === event.message,
    );
    if (read?.kind !== 'message-read') continue;
    for (const [index, act] of read.acts.entries()) {
      if (!WORK.includes(act.kind)) continue;
      const common = {
        message: event.message,
        kind: act.kind as Statement['kind'],
        act,
        posted: Date.parse(event.at),
        // What stands first in a message was first, by less than any clock shows.
        when: Date.parse(act.time ?? event.at) + index * WITHIN,
        timeSaid: act.time !== undefined,
        worker: act.by ?? event.by,
        reporter: event.by,
      };
      const watched = paper.plan.watched?.find((one) => one.id === act.step);
      if (watched) {
        statements.push({ ...common, box: null, watched: watched.id });
        unplaced.push({ what: watched, when: common.when });
      }
      const step = paper.plan.steps.find((one) => one.id === act.step);
      if (!step) continue;
      const here = positionsOf(paper.plan, paper.opened, step);
      let said: readonly (string | null)[] = step.each === undefined ? [null] : act.positions;
      // A position left out means the job's only one; with several it is asked about and nothing is recorded.
      if (said.length === 0 && here.length === 1) said = here;
      const known = statements.length;
      for (const position of said) {
        const box = paper.boxes.find((one) => one.step.id === step.id && one.position === position);
        if (box) statements.push({ ...common, box, watched: null });
        else if (position !== null && !here.includes(position)) {
          elsewhere.push({ step: step.id, position, message: event.message });
        }
      }
      if (statements.length === known) unplaced.push({ what: step, when: common.when });
    }
  }
  statements.sort((a, b) => a.when - b.when || a.posted - b.posted);
  return { statements, elsewhere, unplaced };
}
