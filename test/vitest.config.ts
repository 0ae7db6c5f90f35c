import { defineConfig } from 'vitest/config';
import { leftOut } from './left-out.ts';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['test/**/*.test.ts'],
    reporters: ['default', leftOut],
    setupFiles: ['test/set-up.ts'],
    testTimeout: 60_000,
    hookTimeout: 180_000,
    // What waits on a browser or a socket can lose a race on a busy machine: in CI it gets a second try, and the report says so.
    retry: process.env.CI ? 1 : 0,
    // A loaded machine is slow, not wrong: what is waited for is waited for within the test's own bound.
    expect: { poll: { timeout: 20_000 } },
    maxWorkers: 2,
  },
});
