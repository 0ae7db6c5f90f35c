// A random job printed small, so that a counterexample can be read.
import type { JobEvent } from '../../../shared/event.ts';
import type { PlanFile } from '../../../shared/plan.ts';

export function jobInWords(plan: PlanFile, events: readonly JobEvent[]): string {
  const lines = plan.steps.map((step) => {
    const { id, title: _title, phase: _phase, why: _why, ...rest } = step;
    return `  ${id} ${JSON.stringify(rest)}`;
  });
  if (plan.states) lines.push(`  states ${JSON.stringify(plan.states)}`);
  for (const event of events) {
    const at = event.at.slice(11, 16);
    if (event.kind === 'job-opened') {
      lines.push(
        `  ${at} opened, positions ${event.positions.join(' ') || 'all'}, options ${event.options.join(' ') || 'none'}`,
      );
    } else if (event.kind === 'message-read') {
      const poster = events.find(
        (one) => one.kind === 'message-posted' && one.message === event.message,
      )?.by;
      for (const { span: _span, assumed: _assumed, ...act } of event.acts) {
        lines.push(
          `  ${at} ${event.message}${event.revision > 0 ? ' edited' : ''} ${poster}: ${JSON.stringify(act)}`,
        );
      }
    } else if (event.kind === 'message-deleted') lines.push(`  ${at} ${event.message} deleted`);
    else if (event.kind === 'hold-released' || event.kind === 'hold-refused') {
      lines.push(`  ${at} ${event.kind} ${event.step}@${event.position ?? ''} by ${event.by}`);
    }
  }
  return lines.join('\n');
}
