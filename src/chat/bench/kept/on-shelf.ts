// The bench on the shelf that several processes share: each of them serves the page, and all of them show the same.
import { randomBytes } from 'node:crypto';
import { Delivery } from '../../../../shared/delivery.ts';
import type { SharedShelf } from '../../../store/shared-shelf.ts';
import { changePaper, type Papers } from '../../change-paper.ts';
import type { BenchLog } from '../bench-options.ts';
import type { Arrivals } from '../talk/arrivals.ts';
import { lineOf } from '../talk/hand-in.ts';
import {
  openSharedConversation,
  type SharedConversation,
  type Taken,
} from '../talk/shared-conversation.ts';
import type { BenchKept, PhotoBytes } from './bench-kept.ts';

/** Milliseconds between two looks at what other processes said. */
const LOOK_MS = 300;
/** Looks after which it is seen to what others left behind. */
const LOOKS_FOR_LEFT = 20;
/** Seconds after which whoever held a delivery on its way in is taken for gone. */
const LEFT_SECONDS = 15;

/** Reads that are asked for in one turn of the loop are one: news goes to many pages at once. */
const sharedPapers = (shelf: SharedShelf): Papers => {
  const reading = new Map<string, ReturnType<Papers['paper']>>();
  return {
    writePaper: shelf.writePaper,
    paper: (name) => {
      const known = reading.get(name);
      if (known !== undefined) return known;
      const asked = new Promise<void>((done) => setImmediate(done)).then(() => {
        reading.delete(name);
        return shelf.paper(name);
      });
      reading.set(name, asked);
      return asked;
    },
  };
};

const shelfPhotos = (shelf: SharedShelf): PhotoBytes => ({
  keep: (name, bytes) => shelf.keepBytes(`photo:${name}`, bytes),
  size: (name) => shelf.sizeOf(`photo:${name}`),
  read: (name) => shelf.readBytes(`photo:${name}`),
});

const clientOf = (delivery: string): string => delivery.slice(delivery.indexOf(':') + 1);

const shelfArrivals = (
  shelf: SharedShelf,
  conversation: SharedConversation,
  log?: BenchLog,
): Arrivals => {
  const isHeld = (id: string): boolean => conversation.isHeld(clientOf(id));
  return {
    left: async () =>
      (await shelf.leftBehind(LEFT_SECONDS)).flatMap((body) => {
        const delivery = Delivery.safeParse(JSON.parse(body));
        if (delivery.success) return [delivery.data];
        log?.warn({}, 'An arrival in an unknown form was passed over');
        return [];
      }),
    hold: (delivery) => shelf.hold(delivery.id, JSON.stringify(delivery)),
    release: async (delivery) => {
      const line = lineOf(delivery, undefined);
      if (line === undefined) return shelf.letGo(delivery.id);
      const { id, client } = line;
      const taken: Taken = { what: 'taken', id, client };
      await shelf.letGo(delivery.id, {
        roll: delivery.thread ?? '',
        about: id,
        once: `taken:${line.what}:${client}`,
        body: JSON.stringify(taken),
      });
      await conversation.refresh();
    },
    isHeld,
    isHeldNew: isHeld,
    close: async () => undefined,
  };
};

export async function benchOnShelf(shelf: SharedShelf, log?: BenchLog): Promise<BenchKept> {
  const conversation = await openSharedConversation(shelf, log);
  const papers = sharedPapers(shelf);
  const secret = await changePaper(papers, 'contact', (text) => {
    const made = text ?? randomBytes(32).toString('base64');
    return [made, made];
  });
  let looking: NodeJS.Timeout | undefined;
  let isLost = false;
  let looks = 0;
  const look = async (takeLeft: () => Promise<void>): Promise<void> => {
    try {
      await conversation.refresh();
      looks += 1;
      if (looks % LOOKS_FOR_LEFT === 0) await takeLeft();
      isLost = false;
    } catch (error) {
      if (!isLost)
        log?.warn({ error }, 'What others said on the bench is not to be had; it is tried again');
      isLost = true;
    }
  };
  return {
    conversation,
    arrivals: shelfArrivals(shelf, conversation, log),
    papers,
    photos: shelfPhotos(shelf),
    secret: Buffer.from(secret, 'base64'),
    begin: (takeLeft) => {
      const next = (): void => {
        looking = setTimeout(() => void look(takeLeft).then(() => looking && next()), LOOK_MS);
        looking.unref();
      };
      next();
    },
    close: async () => {
      clearTimeout(looking);
      looking = undefined;
      await conversation.close();
    },
  };
}
