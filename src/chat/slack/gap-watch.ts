// Over HTTP nobody says that deliveries were lost: Slack tries each for six minutes and gives it up. So what points to a
// gap is watched for: a long silence, a delivery that comes again, one that could not be kept. Then the history is read.
import type { App, Receiver } from '@slack/bolt';

/** Slack's attempts end 6 minutes after the first; source: docs.slack.dev, apis/events-api. Shorter silences lose nothing. */
const SILENCE = 300;
/** Seconds of silence after which the history is read though nothing arrives; then twice as long each time, up to the last. */
const LOOK_AFTER = 900;
const LOOK_AFTER_MOST = 4 * 3600;
/** Seconds within which repeats point to one and the same gap. */
const SAME_GAP = 60;
/** A workshop where little is said is silent often: for that alone the history is read so many seconds apart at the least. */
const SILENCE_AGAIN = 900;

type GapWatchOptions = {
  /** The time now, ISO 8601. */
  readonly clock: () => string;
  readonly wait: (seconds: number) => Promise<void>;
  readonly stopped: () => boolean;
  /** There may be a gap: called before the delivery that points to it is worked on. */
  readonly hold: () => void;
  /** The same, and now the history is to be read. */
  readonly onGap: () => void;
};

export type GapWatch = {
  /** The receiver, with what it receives watched. */
  readonly over: (receiver: Receiver) => Receiver;
};

export const gapWatch = ({ clock, wait, stopped, hold, onGap }: GapWatchOptions): GapWatch => {
  const now = (): number => Date.parse(clock()) / 1000;
  let heard = now();
  let told = Number.NEGATIVE_INFINITY;
  let notKept = false;
  let silent = false;

  const tell = (): void => {
    told = now();
    notKept = false;
    silent = false;
    onGap();
  };
  const arrived = (isRepeat: boolean): void => {
    const silence = now() - heard;
    heard = now();
    if (silence > SILENCE) silent = true;
    const since = now() - told;
    if (notKept || (isRepeat && since > SAME_GAP) || (silent && since >= SILENCE_AGAIN)) tell();
    else if (silent) hold();
  };

  /** Looks by itself while nothing arrives, less and less often. */
  const look = async (): Promise<void> => {
    for (let after = LOOK_AFTER; !stopped(); ) {
      const since = heard;
      const next = silent ? told + SILENCE_AGAIN : Math.max(since, told) + after;
      await wait(Math.max(1, next - now()));
      if (stopped()) return;
      if (silent && now() - told >= SILENCE_AGAIN) tell();
      else if (heard !== since) after = LOOK_AFTER;
      else if (now() - Math.max(since, told) >= after) {
        tell();
        after = Math.min(LOOK_AFTER_MOST, after * 2);
      }
    }
  };

  return {
    over: (receiver) => {
      void look();
      return {
        init: (app) => {
          const processEvent: App['processEvent'] = async (event) => {
            arrived((event.retryNum ?? 0) > 0);
            try {
              await app.processEvent(event);
            } catch (error) {
              notKept = true;
              throw error;
            }
          };
          receiver.init({ processEvent } as App);
        },
        start: (...given) => receiver.start(...given),
        stop: (...given) => receiver.stop(...given),
      };
    },
  };
};
