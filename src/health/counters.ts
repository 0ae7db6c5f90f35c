// What is counted, in a registry of our own, read as Prometheus text. Labels name channels and kinds only: nothing of a
// job, a message or a person.
import { Counter, Gauge, Histogram, Registry } from 'prom-client';
import type { Step } from '../floor/trail.ts';
import type { Health } from './health.ts';

export type Counters = {
  readonly count: (step: Step) => void;
  /** A trouble of the store began, by its kind. */
  readonly trouble: (kind: string) => void;
  /** @param health how things stand now */
  readonly text: (health: Health) => Promise<string>;
  readonly type: string;
};

export const counters = (): Counters => {
  const registry = new Registry();
  const registers = [registry];
  const deliveries = new Counter({
    name: 'chargehand_deliveries_total',
    help: 'Deliveries from a channel, by kind and by whether they were new, seen before, or could not be kept.',
    labelNames: ['channel', 'kind', 'kept'],
    registers,
  });
  const acceptSeconds = new Histogram({
    name: 'chargehand_accept_seconds',
    help: 'Seconds until a delivery was on the disk and could be acknowledged.',
    buckets: [0.0005, 0.001, 0.002, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 1, 3],
    registers,
  });
  const workedOff = new Counter({
    name: 'chargehand_worked_off_total',
    help: 'Deliveries worked off, or left in the inbox because of a fault.',
    labelNames: ['channel', 'well'],
    registers,
  });
  const events = new Counter({
    name: 'chargehand_events_total',
    help: 'Events recorded in jobs.',
    registers,
  });
  const posts = new Counter({
    name: 'chargehand_posts_total',
    help: 'Posts by channel: posted, put off because the platform asked to wait, did not answer or refused, given up.',
    labelNames: ['channel', 'outcome'],
    registers,
  });
  const troubles = new Counter({
    name: 'chargehand_store_troubles_total',
    help: 'Troubles with the disk or a stored file that began.',
    labelNames: ['kind'],
    registers,
  });
  const gauge = (name: string, help: string, labelNames: readonly string[] = []) =>
    new Gauge({ name, help, labelNames: [...labelNames], registers });
  const info = gauge('chargehand_build_info', 'Always 1; the version is in the labels.', [
    'version',
    'node',
  ]);
  const uptime = gauge('chargehand_uptime_seconds', 'Seconds since the start.');
  const backlog = gauge('chargehand_backlog_posts', 'Posts that wait to go out.', ['channel']);
  const oldest = gauge(
    'chargehand_backlog_oldest_seconds',
    'Seconds for which the oldest post has waited.',
    ['channel'],
  );
  const last = gauge(
    'chargehand_last_delivery_timestamp_seconds',
    'When the last delivery was kept, in seconds since 1970; 0 before the first.',
    ['channel'],
  );
  const inbox = gauge('chargehand_inbox_deliveries', 'Deliveries kept and not worked off yet.');
  const jobs = gauge('chargehand_jobs', 'Stored jobs.', ['status']);
  const free = gauge('chargehand_disk_free_bytes', 'Free room on the disk of the data folder.');
  const memory = gauge('chargehand_memory_bytes', 'Memory of the process that is in use.');

  const set = (health: Health): void => {
    info.set({ version: health.version, node: health.node }, 1);
    uptime.set(health.uptimeSeconds);
    for (const channel of health.channels) {
      backlog.set({ channel: channel.channel }, channel.waiting);
      oldest.set({ channel: channel.channel }, channel.oldestSeconds);
      last.set({ channel: channel.channel }, Date.parse(channel.lastDelivery ?? '') / 1000 || 0);
    }
    inbox.set(health.inbox);
    jobs.set({ status: 'open' }, health.jobs.open);
    jobs.set({ status: 'over' }, health.jobs.over);
    if (health.disk !== undefined) free.set(health.disk.freeBytes);
    memory.set(health.memoryBytes);
  };

  return {
    count: (step) => {
      switch (step.step) {
        case 'accepted':
          deliveries.inc({ channel: step.channel, kind: step.kind, kept: step.kept });
          if (step.kept !== 'not-kept') acceptSeconds.observe(step.seconds);
          return;
        case 'worked-off':
          return workedOff.inc({ channel: step.channel, well: step.well ? 'yes' : 'no' });
        case 'recorded':
          return events.inc(step.events);
        case 'posted':
          return posts.inc({ channel: step.channel, outcome: 'posted' });
        case 'put-off':
          return posts.inc({ channel: step.channel, outcome: step.why });
        case 'given-up':
          return posts.inc({ channel: step.channel, outcome: 'given-up' });
      }
    },
    trouble: (kind) => troubles.inc({ kind }),
    text: async (health) => {
      set(health);
      return registry.metrics();
    },
    type: registry.contentType,
  };
};
