// The posts that wait, in the order in which they came, found by channel and by job without going through all of them: the
// backlog of an outage, and of the first look at every job after a start, is long.
import type { Delivery } from '../../shared/delivery.ts';
import type { OutboxEntry } from '../store/job-store.ts';
import { postLane } from './outbox-pace.ts';

type Channel = Delivery['channel'];

/** A place in the line; who stands there may change. */
type Spot = { entry: OutboxEntry };

type OutboxLine = {
  readonly add: (entry: OutboxEntry) => void;
  readonly remove: (entry: Pick<OutboxEntry, 'id' | 'job' | 'channel'>) => void;
  /** The same entry with another state or count, where it stands. */
  readonly change: (entry: OutboxEntry) => void;
  /** `entry` goes; `newest`, which stands further back, takes its place. */
  readonly giveWay: (entry: OutboxEntry, newest: OutboxEntry) => void;
  readonly size: () => number;
  /** Channels with something waiting, the one that waited first in front. */
  readonly channels: () => readonly Channel[];
  /** Of a channel, first come first. */
  readonly of: (channel: Channel) => Iterable<OutboxEntry>;
  /** Stops that go to a channel's common place: they are posted before all else. */
  readonly urgentOf: (channel: Channel) => Iterable<OutboxEntry>;
  readonly sizeOf: (channel: Channel) => number;
  /** Of one job on one channel, first come first. */
  readonly lane: (entry: Pick<OutboxEntry, 'job' | 'channel'>) => readonly OutboxEntry[];
};

const nameOf = (entry: Pick<OutboxEntry, 'id' | 'job'>): string => `${entry.job}|${entry.id}`;
const isUrgent = ({ post }: OutboxEntry): boolean => post.urgent && post.to.where === 'channel';

/** Everything under a key, kept in the order of coming; a key without anything is forgotten. */
const groups = <K>() => {
  const all = new Map<K, Set<Spot>>();
  return {
    all,
    add: (key: K, spot: Spot): void => {
      const there = all.get(key);
      if (there) there.add(spot);
      else all.set(key, new Set([spot]));
    },
    remove: (key: K, spot: Spot): void => {
      const there = all.get(key);
      if (there?.delete(spot) && there.size === 0) all.delete(key);
    },
  };
};

function* entriesOf(spots: Iterable<Spot> | undefined): Generator<OutboxEntry> {
  for (const { entry } of spots ?? []) yield entry;
}

export const outboxLine = (): OutboxLine => {
  const spots = new Map<string, Spot>();
  const channels = groups<Channel>();
  const urgent = groups<Channel>();
  const lanes = groups<string>();

  const takeOut = (spot: Spot): void => {
    const { entry } = spot;
    channels.remove(entry.channel, spot);
    urgent.remove(entry.channel, spot);
    lanes.remove(postLane(entry), spot);
  };

  return {
    add: (entry) => {
      const spot = { entry };
      spots.set(nameOf(entry), spot);
      channels.add(entry.channel, spot);
      if (isUrgent(entry)) urgent.add(entry.channel, spot);
      lanes.add(postLane(entry), spot);
    },
    remove: (entry) => {
      const spot = spots.get(nameOf(entry));
      if (!spot) return;
      spots.delete(nameOf(entry));
      takeOut(spot);
    },
    change: (entry) => {
      const spot = spots.get(nameOf(entry));
      if (spot) spot.entry = entry;
    },
    giveWay: (entry, newest) => {
      const place = spots.get(nameOf(entry));
      const last = spots.get(nameOf(newest));
      if (!place || !last || place === last) return;
      takeOut(last);
      spots.delete(nameOf(entry));
      spots.set(nameOf(newest), place);
      place.entry = newest;
      if (isUrgent(newest)) urgent.add(newest.channel, place);
      else urgent.remove(newest.channel, place);
    },
    size: () => spots.size,
    channels: () => [...channels.all.keys()],
    of: (channel) => entriesOf(channels.all.get(channel)),
    urgentOf: (channel) => entriesOf(urgent.all.get(channel)),
    sizeOf: (channel) => channels.all.get(channel)?.size ?? 0,
    lane: (entry) => [...entriesOf(lanes.all.get(postLane(entry)))],
  };
};
