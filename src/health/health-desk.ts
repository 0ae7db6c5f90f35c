// What is answered under /health and /metrics, wherever they are served.
import type { Step } from '../floor/trail.ts';
import { counters } from './counters.ts';
import { type HealthSources, healthWatch } from './health.ts';
import { healthPage } from './health-page.ts';

export type HealthAnswer = {
  readonly status: number;
  readonly type: string;
  readonly body: string;
};

export type HealthDesk = {
  readonly count: (step: Step) => void;
  readonly trouble: (kind: string) => void;
  /** Before the floor is made there is nothing to look at: until then every answer says so. */
  readonly watch: (sources: HealthSources) => void;
  /** @returns undefined for a path that is not served here */
  readonly answer: (path: string, asPage: boolean) => Promise<HealthAnswer | undefined>;
};

export const HEALTH_PATHS: ReadonlySet<string> = new Set(['/health', '/metrics']);

/** @param clock ISO time now */
export const healthDesk = (clock: () => string): HealthDesk => {
  const counted = counters();
  const health = healthWatch(clock);
  let sources: HealthSources | undefined;
  return {
    count: (step) => {
      counted.count(step);
      health.count(step);
    },
    trouble: (kind) => {
      counted.trouble(kind);
      health.trouble(kind);
    },
    watch: (given) => {
      sources = given;
    },
    answer: async (path, asPage) => {
      if (!HEALTH_PATHS.has(path)) return undefined;
      if (sources === undefined)
        return { status: 503, type: 'text/plain; charset=utf-8', body: 'Not started yet.\n' };
      const now = await health.now(sources);
      if (path === '/metrics')
        return { status: 200, type: counted.type, body: await counted.text(now) };
      const status = now.state === 'well' ? 200 : 503;
      return asPage
        ? { status, type: 'text/html; charset=utf-8', body: healthPage(now) }
        : {
            status,
            type: 'application/json; charset=utf-8',
            body: `${JSON.stringify(now, null, 1)}\n`,
          };
    },
  };
};
