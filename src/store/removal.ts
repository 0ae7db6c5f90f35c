// What a retention rule or a person's request takes out of a job.
import type { StoredEvent } from '../../shared/event.ts';
import { withoutNames } from '../desk/names-out.ts';
import { peopleOf } from './chain.ts';
import { type WhichTexts, withoutPerson, withoutTexts } from './chain-removal.ts';
import type { JobData } from './job-form.ts';

/** The same list where nothing was taken out, so that nothing is written. */
const orSame = (
  next: readonly StoredEvent[],
  old: readonly StoredEvent[],
): readonly StoredEvent[] => (next.some((event, i) => event !== old[i]) ? next : old);

/** The job without the picked words; the same job where none was picked. */
export function withoutTextsIn(data: JobData, which: WhichTexts): JobData {
  const events = orSame(withoutTexts(data.events, which), data.events);
  return events === data.events ? data : { ...data, events };
}

/** True where a text holds one of the names as a word of its own, in capital or small letters. */
function mentions(names: readonly string[]): (text: string) => boolean {
  const escaped = names.map((name) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  const pattern = new RegExp(`(?<![\\p{L}\\p{N}])(?:${escaped.join('|')})(?![\\p{L}\\p{N}])`, 'iu');
  return (text) => pattern.test(text);
}

/** The job without a person's names; the same job where it does not name the person. */
export function withoutPersonIn(data: JobData, names: readonly string[]): JobData {
  const wanted = names.filter((name) => name.trim() !== '');
  if (wanted.length === 0) return data;
  const numbers = peopleOf(data.events).numbers;
  const mentioned = mentions(wanted);
  let events = withoutTexts(data.events, (_event, _path, text) => mentioned(text));
  for (const name of wanted) events = withoutPerson(events, name);
  events = orSame(events, data.events);
  const technician = data.index.technician;
  const number = technician === undefined ? undefined : numbers.get(technician);
  const listed = technician !== undefined && wanted.includes(technician);
  const outbox = withoutNames(data.outbox, wanted);
  if (events === data.events && outbox === data.outbox && !listed) return data;
  const index = listed
    ? {
        ...data.index,
        technician: number === undefined ? 'removed person' : `removed person ${number}`,
      }
    : data.index;
  return { ...data, index, events, outbox };
}
