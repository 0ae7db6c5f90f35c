// "Before dinner" and the like: the breaks of the workshop's shifts as named moments.
import type { Settings } from '../../shared/settings.ts';

type Moment = { readonly from: string; readonly to: string };

/** Each break of each shift by its name and its other words; the first shift that names one wins. */
export const momentsOf = (settings: Pick<Settings, 'shifts'>): Readonly<Record<string, Moment>> => {
  const moments: Record<string, Moment> = {};
  for (const shift of settings.shifts ?? [])
    for (const pause of shift.breaks ?? [])
      for (const word of [pause.name, ...(pause.words ?? [])])
        moments[word.toLocaleLowerCase('en')] ??= { from: pause.from, to: pause.to };
  return moments;
};
