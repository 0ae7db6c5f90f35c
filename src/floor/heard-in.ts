// What people posted in a place and stands on the records of open jobs: for a channel that finds out what was deleted by
// what is there no more.
import type { HeardMessage, HeardWhere } from '../chat/channel.ts';
import { messagesOf } from '../desk/turn/log.ts';
import type { Floor } from './floor.ts';
import { spotOf } from './message-id.ts';

/** Messages that were deleted or moved to another job are left out: nothing more becomes of them here. */
export const heardIn = async (
  floor: Pick<Floor, 'openJobs' | 'legible' | 'workshop'>,
  where: HeardWhere,
): Promise<readonly HeardMessage[]> => {
  const { people } = floor.workshop.settings;
  const idOf = (name: string): string | undefined => {
    const person = people.find((each) => each.name === name);
    return where.channel === 'bench' ? person?.name : person?.[where.channel];
  };
  const heard: HeardMessage[] = [];
  for (const { job } of await floor.openJobs()) {
    const found = await floor.legible(job);
    if (!found) continue;
    const threads = found.threads
      .filter(({ channel, place }) => channel === where.channel && place === where.place)
      .map(({ thread }) => thread);
    for (const { message, by, at, deleted } of messagesOf(found.state.events)) {
      const spot = spotOf(message);
      const person = idOf(by);
      if (deleted || person === undefined || Date.parse(at) < Date.parse(where.since)) continue;
      if (spot?.channel !== where.channel || spot.place !== where.place) continue;
      heard.push({ message: spot.message, person, threads });
    }
  }
  return heard;
};
