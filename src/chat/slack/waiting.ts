// Waiting that can be ended early, by the system's clock.

/** Resolves after so many seconds, or as soon as `signal` is aborted. */
export const waitSeconds = (seconds: number, signal?: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    if (signal?.aborted) return resolve();
    const timer = setTimeout(end, seconds * 1000);
    signal?.addEventListener('abort', end, { once: true });
    function end(): void {
      clearTimeout(timer);
      signal?.removeEventListener('abort', end);
      resolve();
    }
  });
