// Joining a channel: a platform out of reach keeps nobody from working; the bench goes on, and it is tried again.
import type { Channel, Intake } from '../chat/channel.ts';
import type { Schedule } from '../schedule/timers.ts';

type Parts = {
  readonly intake: Intake;
  readonly schedule: Schedule;
  readonly clock: () => string;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
  /** Called once a channel is joined that was out of reach before. */
  readonly joined: () => void;
};

/** Throws what the bench throws, and a wrong setting at the first try; anything else is tried again by the schedule. */
export const joinChannel = async (parts: Parts, channel: Channel, tries = 0): Promise<void> => {
  const { intake, schedule, clock, log, joined } = parts;
  try {
    await channel.start(intake);
    if (tries > 0) log('info', 'a channel is joined after all', { channel: channel.name, tries });
  } catch (error) {
    const isSetting = 'doThis' in (error as object);
    if (channel.name === 'bench' || (isSetting && tries === 0)) throw error;
    const seconds = Math.min(300, 15 * 2 ** Math.min(tries, 5));
    log('error', 'a channel could not be joined and is tried again', {
      channel: channel.name,
      why: (error as Error).message,
      seconds,
    });
    const again = new Date(Date.parse(clock()) + seconds * 1000).toISOString();
    schedule.at(`start:${channel.name}`, again, () => {
      void joinChannel(parts, channel, tries + 1).then(joined);
    });
  }
};
