// Times as people in the workshop read them.
import type { Role } from '../../../../shared/plan.ts';
import type { Intent } from '../../../desk/card.ts';
import { html, type Markup } from './html.ts';

/** What every drawing needs to know: the workshop, the time, and who is looking. */
export type Frame = {
  readonly workshop: string;
  readonly zone: string;
  readonly now: string;
  readonly who?: string;
  /** The device has a pass of this person's own; otherwise the name is only chosen. */
  readonly proved?: boolean;
  /** The name of the shared tablet this is, where it is one. */
  readonly tablet?: string;
  /** People come in with passes: over the workshop's network. */
  readonly hasPasses?: boolean;
  /** Whether who is looking holds one of these roles. */
  readonly roles?: readonly Role[];
  /** Whether a button means anything in their hands; left out, every button is shown. */
  readonly may?: (intent: Intent) => boolean;
  readonly people: readonly string[];
  /** Pages that are there only where the bench was given what they need. */
  readonly hasPlans: boolean;
  readonly hasDemo: boolean;
};

type ZoneWords = { readonly clock: (at: Date) => string; readonly day: (at: Date) => string };

/** Formatters are dear to make and cheap to use, and a page shows thousands of times. */
const zones = new Map<string, ZoneWords>();

function wordsIn(zone: string): ZoneWords {
  const known = zones.get(zone);
  if (known !== undefined) return known;
  const clock = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  });
  const date = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
  });
  const day = (at: Date): string => {
    const parts = new Map(date.formatToParts(at).map(({ type, value }) => [type, value]));
    return ['weekday', 'day', 'month', 'year'].map((part) => parts.get(part as 'day')).join(' ');
  };
  const made = { clock: (at: Date) => clock.format(at), day };
  zones.set(zone, made);
  return made;
}

/** "10:40" today, "Tue 4 Mar, 10:40" on another day, with the year in another year; the text where it is no time. */
export function timeWords(at: string, frame: Pick<Frame, 'zone' | 'now'>): string {
  const time = new Date(at);
  if (Number.isNaN(time.getTime())) return at;
  const words = wordsIn(frame.zone);
  const today = words.day(new Date(frame.now));
  const day = words.day(time);
  if (day === today) return words.clock(time);
  const isThisYear = day.slice(-4) === today.slice(-4);
  return `${isThisYear ? day.slice(0, -5) : day}, ${words.clock(time)}`;
}

/** A time in its own element, so that programs read it too. */
export function timeMark(at: string, frame: Pick<Frame, 'zone' | 'now'>): Markup {
  return html`<time datetime="${at}">${timeWords(at, frame)}</time>`;
}

/** "promised 14:00", or once that is past "late since 14:00"; and whether it is. */
export function promiseWords(
  promised: string | undefined,
  frame: Pick<Frame, 'zone' | 'now'>,
): { readonly isLate: boolean; readonly words: string } | undefined {
  if (promised === undefined) return undefined;
  const isLate = Date.parse(promised) < Date.parse(frame.now);
  return { isLate, words: `${isLate ? 'late since' : 'promised'} ${timeWords(promised, frame)}` };
}

/** The same as a sentence, in heavier letters once it is late. */
export function promiseMarkup(
  promised: string | undefined,
  frame: Pick<Frame, 'zone' | 'now'>,
): Markup {
  const promise = promiseWords(promised, frame);
  if (promise === undefined) return html``;
  const sentence = `${promise.words.charAt(0).toUpperCase()}${promise.words.slice(1)}`;
  return promise.isLate ? html`<strong class="late">${sentence}</strong>` : html`${sentence}`;
}
