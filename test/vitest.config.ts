import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['test/**/*.test.ts'],
    setupFiles: ['test/set-up.ts'],
    testTimeout: 60_000,
    // A loaded machine is slow, not wrong: what is waited for is waited for within the test's own bound.
    expect: { poll: { timeout: 20_000 } },
    maxWorkers: 2,
  },
});
