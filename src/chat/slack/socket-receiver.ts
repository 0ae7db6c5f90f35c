// Slack's deliveries over Socket Mode, as a receiver for Bolt. Bolt's own one does the talking, with two changes: an
// envelope is acknowledged only after the delivery is kept, and the connection is watched here. Left to itself the package
// waits 5 s after each disconnect, and gives up for good, with an unhandled rejection, once it is refused a new address.
import { type App, type Receiver, SocketModeReceiver } from '@slack/bolt';
import { loggerFor, type SlackLog, withoutTokens } from './slack-log.ts';
import { type ClientOptions, clientOptionsFor } from './web.ts';

export type SocketReceiverOptions = {
  readonly appToken: string;
  readonly clientOptions: ClientOptions;
  readonly log: SlackLog;
  /** Called after each connection: what was missed while there was none has to be read. */
  readonly onConnected: () => void;
  /** Called as soon as a connection is gone, before there is another. */
  readonly onLost: () => void;
  /** Waits for so many seconds, or until `signal` ends it. */
  readonly wait: (seconds: number, signal: AbortSignal) => Promise<void>;
};

/** Seconds for a connection to say hello. */
const HELLO_LIMIT = 20;
const LONGEST_WAIT = 60;

/** Has a life cycle: connects again and again from start to stop. */
export class SocketReceiver implements Receiver {
  #app: App | undefined;
  #running: Promise<void> | undefined;
  readonly #options: SocketReceiverOptions;
  readonly #stopping = new AbortController();
  readonly #stopped = new Promise<void>((resolve) =>
    this.#stopping.signal.addEventListener('abort', () => resolve(), { once: true }),
  );
  readonly #busy = new Set<Promise<void>>();
  #current: SocketModeReceiver | undefined;

  constructor(options: SocketReceiverOptions) {
    this.#options = options;
  }

  init(app: App): void {
    this.#app = app;
  }

  /** Resolves after the first attempt, whether it connected or not; attempts go on until `stop`. */
  async start(): Promise<void> {
    if (this.#running) return;
    await new Promise<void>((resolve) => {
      this.#running = this.#run(resolve);
    });
  }

  async stop(): Promise<void> {
    this.#stopping.abort();
    await this.#leave();
    await this.#running;
    await Promise.allSettled(this.#busy);
  }

  async #run(attempted: () => void): Promise<void> {
    const { signal } = this.#stopping;
    let failures = 0;
    while (!signal.aborted) {
      const { gone } = this.#renew();
      try {
        await this.#connect();
        if (failures > 0) this.#options.log('info', 'Slack is connected again.');
        failures = 0;
        this.#options.onConnected();
        attempted();
        await Promise.race([gone, this.#stopped]);
        this.#options.onLost();
      } catch (error) {
        failures += 1;
        this.#options.log('warn', 'Slack is not connected; it is tried again.', {
          why: withoutTokens((error as Error)?.message ?? String(error)),
          attempt: failures,
        });
      }
      await this.#leave();
      attempted();
      // Slack renews connections all the time: after a normal end the next one is opened at once.
      if (failures > 0 && !signal.aborted)
        await this.#options.wait(Math.min(LONGEST_WAIT, 2 ** Math.min(failures - 1, 6)), signal);
    }
  }

  /** A new receiver for each connection: nothing of an old one can answer for it. */
  #renew(): { readonly gone: Promise<void> } {
    const { appToken, clientOptions, log } = this.#options;
    const receiver = new SocketModeReceiver({
      appToken,
      autoReconnectEnabled: false,
      logger: loggerFor(log),
      installerOptions: { clientOptions: clientOptionsFor(clientOptions, log) },
      processEventErrorHandler: async ({ error }) => {
        log('error', 'A delivery from Slack was not kept; Slack sends it again.', {
          why: error.message,
        });
        return false;
      },
    });
    receiver.init({ processEvent: this.#process } as unknown as App);
    this.#current = receiver;
    return { gone: new Promise((resolve) => receiver.client.once('disconnected', resolve)) };
  }

  /** For events Bolt calls ack before its listeners run, so ack only notes the answer; it is sent once they are through. */
  readonly #process = (event: Parameters<App['processEvent']>[0]): Promise<void> => {
    const work = (async () => {
      if (!this.#app) throw new Error('Not ready yet.');
      let said: unknown;
      await this.#app.processEvent({
        ...event,
        ack: async (answer?: unknown) => {
          said = answer;
        },
      });
      await event.ack(said);
    })().finally(() => this.#busy.delete(work));
    this.#busy.add(work);
    return work;
  };

  async #connect(): Promise<void> {
    const receiver = this.#current;
    const connecting = receiver?.client.start();
    // One that connects after it was given up is closed again.
    connecting?.then(
      () => {
        if (receiver !== this.#current) void receiver?.client.disconnect();
      },
      () => undefined,
    );
    const late = new AbortController();
    try {
      await Promise.race([
        connecting,
        this.#stopped,
        this.#options.wait(HELLO_LIMIT, late.signal).then(() => {
          if (!late.signal.aborted) throw new Error(`No hello within ${HELLO_LIMIT} s.`);
        }),
      ]);
    } finally {
      late.abort();
    }
  }

  /** Ends the connection; one that does not answer to the farewell is left behind. */
  async #leave(): Promise<void> {
    const receiver = this.#current;
    if (!receiver) return;
    this.#current = undefined;
    const patience = new AbortController();
    const over = receiver.client.disconnect().catch(() => undefined);
    await Promise.race([over, this.#options.wait(2, patience.signal)]);
    patience.abort();
  }
}
