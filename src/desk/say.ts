// Small pieces of wording used by every answer: times, lists, steps with their position.
import { DateTime } from 'luxon';
import type { JobView } from '../job/view.ts';
import { zoneNamed } from '../trade/zone.ts';

/** "14:10" on the day itself, "Mon 14:10" within a week, else "23 Nov 14:10"; in the zone of the workshop. */
export const clockTime = (iso: string, now: string, zone: string): string => {
  const at = DateTime.fromISO(iso, { zone: zoneNamed(zone) });
  const today = DateTime.fromISO(now, { zone: zoneNamed(zone) });
  if (!at.isValid) return iso;
  if (at.hasSame(today, 'day')) return at.toFormat('HH:mm');
  const apart = Math.abs(at.startOf('day').diff(today.startOf('day'), 'days').days);
  return at.setLocale('en').toFormat(apart < 7 ? 'ccc HH:mm' : 'd LLL HH:mm');
};

/** "Thu 12 Mar 2026", in the zone of the workshop. */
export const clockDate = (iso: string, zone: string): string => {
  const at = DateTime.fromISO(iso, { zone: zoneNamed(zone) });
  return at.isValid ? at.setLocale('en').toFormat('ccc d LLL yyyy') : iso;
};

/** A sentence with one full stop: none is put behind a question mark or another full stop. */
export const ended = (text: string): string => {
  const whole = text.trimEnd();
  return /[.?!…]["”)]?$/u.test(whole) ? whole : `${whole}.`;
};

/** The rows of a card as sentences: "Progress: 3 of 12. Waits for: …?". */
export const rowsSaid = (rows: readonly (readonly [label: string, value: string])[]): string =>
  rows.map(([label, value]) => ended(`${label}: ${value}`)).join(' ');

/** The first sentence: a full stop inside a figure or a name ends none. */
export const firstSentence = (says: string): string =>
  /^.*?[.?!](?=\s|$)/su.exec(says)?.[0] ?? says;

/** The first sentence without its full stop, to stand in a list. */
export const bareSentence = (says: string): string => firstSentence(says).replace(/[.\s]+$/u, '');

/** "1 h 20 min", "45 min". */
export const duration = (minutes: number): string => {
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
};

/** "a, b and c"; with more than `most`, "a, b and 12 more". */
export const list = (items: readonly string[], most = items.length): string => {
  const shown =
    items.length > most ? [...items.slice(0, most), `${items.length - most} more`] : [...items];
  const last = shown.pop();
  if (last === undefined) return 'nothing';
  return shown.length === 0 ? last : `${shown.join(', ')} and ${last}`;
};

export const stepTitle = (view: Pick<JobView, 'plan'>, step: string): string =>
  view.plan.stepById.get(step)?.title ?? view.plan.watchedById.get(step)?.title ?? step;

/** "Fit the injector, cylinder 3". */
export const stepAt = (
  view: Pick<JobView, 'plan'>,
  step: string,
  position: string | null,
): string => (position === null ? stepTitle(view, step) : `${stepTitle(view, step)}, ${position}`);

/** "cylinder 1, cylinder 2 and cylinder 3" as "cylinder 1, 2 and 3" where they share their words. */
export const positionsTogether = (positions: readonly string[]): string => {
  const split = positions.map((position) => /^(.*\s)(\S+)$/u.exec(position));
  const head = split[0]?.[1];
  if (
    head === undefined ||
    positions.length < 2 ||
    split.some((parts) => parts?.[1] !== head || !/^\d+$/u.test(parts[2] ?? ''))
  )
    return list(positions);
  const numbers = split.map((parts) => Number(parts?.[2]));
  const run = numbers.every(
    (number, index) => index === 0 || number === (numbers[index - 1] ?? 0) + 1,
  );
  return run && numbers.length > 2
    ? `${head}${numbers[0]} to ${numbers.at(-1)}`
    : `${head}${list(numbers.map(String))}`;
};

/** Steps with their positions gathered: "Fit the injector (cylinder 1, 2 and 3)" is "…: cylinder 1, cylinder 2 and cylinder 3". */
export const stepsGathered = (
  view: Pick<JobView, 'plan'>,
  steps: readonly { readonly step: string; readonly position: string | null }[],
): readonly string[] => {
  const positions = new Map<string, string[]>();
  for (const { step, position } of steps)
    positions.set(step, [...(positions.get(step) ?? []), ...(position === null ? [] : [position])]);
  return [...positions].map(([step, at]) =>
    at.length === 0 ? stepTitle(view, step) : `${stepTitle(view, step)}: ${positionsTogether(at)}`,
  );
};
