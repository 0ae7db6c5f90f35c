// The Home tab: what concerns one person. Drawn anew when it is opened, and when a job changed and it reads otherwise now.
import type { View } from '@slack/types';
import type { WebClient } from '@slack/web-api';
import type { Card } from '../../desk/card.ts';
import { drawCard } from './blocks.ts';
import { parseJson } from './json.ts';
import { failureOf } from './post-failure.ts';
import type { Marks } from './seen-mark.ts';
import type { SlackLog } from './slack-log.ts';

export type HomeOptions = {
  readonly web: WebClient;
  readonly marks: Marks;
  readonly team: () => string;
  readonly idOf: (name: string) => string | undefined;
  readonly homeFor: (person: string) => Promise<Card | undefined>;
  readonly log: SlackLog;
  /** Waits for so many seconds, or until the channel stops. */
  readonly wait: (seconds: number) => Promise<void>;
  readonly stopped: () => boolean;
};

export type Home = {
  /** Somebody looks at their page. */
  readonly opened: (person: string) => Promise<void>;
  /** A job changed: the pages that read otherwise now are drawn anew, some seconds later, all of them together. */
  readonly changed: () => void;
  /** Resolves when nothing is being drawn. */
  readonly idle: () => Promise<void>;
};

/** Seconds over which changes are gathered: a page is no place to watch a job by the second. */
const GATHER = 10;
/** People whose pages are kept up to date, those who looked last. */
const MOST_PEOPLE = 200;

/** A card as the view of a Home tab. */
export const homeView = (card: Card, idOf: HomeOptions['idOf']): View => ({
  type: 'home',
  blocks: drawCard(card, idOf).blocks,
});

export const slackHome = (options: HomeOptions): Home => {
  const { web, marks, log } = options;
  const markName = (): string => `slack-home:${options.team()}`;
  /** What was drawn last, by person; empty for those who looked before a restart. */
  const drawn = new Map<string, string>();
  let loaded: Promise<void> | undefined;
  let drawing: Promise<void> | undefined;
  let again = false;

  const load = (): Promise<void> => {
    loaded ??= (async () => {
      const kept = parseJson((await marks.mark(markName())) ?? '');
      if (!Array.isArray(kept)) return;
      for (const person of kept)
        if (typeof person === 'string' && !drawn.has(person)) drawn.set(person, '');
    })();
    return loaded;
  };

  const draw = async (person: string, always: boolean): Promise<void> => {
    const card = await options.homeFor(person);
    if (!card) return;
    const view = homeView(card, options.idOf);
    const looks = JSON.stringify(view);
    if (!always && drawn.get(person) === looks) return;
    await web.views.publish({ user_id: person, view });
    drawn.delete(person);
    drawn.set(person, looks);
  };

  const drawAll = async (): Promise<void> => {
    await load();
    for (const person of [...drawn.keys()].reverse()) {
      if (options.stopped()) return;
      try {
        await draw(person, false);
      } catch (error) {
        const failure = failureOf(error);
        if (failure.kind === 'wait') await options.wait(failure.seconds);
        else if (failure.kind === 'refused') drawn.delete(person);
        log('warn', 'A Home tab could not be drawn; it is drawn when it is opened.', { failure });
      }
    }
  };

  return {
    opened: async (person) => {
      try {
        await load();
        const known = drawn.has(person);
        await draw(person, true);
        for (const oldest of drawn.keys()) {
          if (drawn.size <= MOST_PEOPLE) break;
          drawn.delete(oldest);
        }
        if (!known) await marks.setMark(markName(), JSON.stringify([...drawn.keys()]));
      } catch (error) {
        log('warn', 'A Home tab could not be drawn. It is drawn when it is opened again.', {
          failure: failureOf(error),
        });
      }
    },
    changed: () => {
      again = true;
      drawing ??= (async () => {
        while (again && !options.stopped()) {
          await options.wait(GATHER);
          again = false;
          if (!options.stopped()) await drawAll();
        }
        drawing = undefined;
      })();
    },
    idle: async () => {
      await drawing;
    },
  };
};
