// A person written into the text of the settings: comments and order of the file stay as they are.
import { isMap, isSeq, parseDocument } from 'yaml';
import type { Person } from '../../shared/settings.ts';

/**
 * @param note a comment behind a new person, such as who took them in
 * @returns the text with the person in it, or with the id of one who was there; undefined where `people` is no list
 */
export const withPerson = (text: string, person: Person, note: string): string | undefined => {
  const document = parseDocument(text);
  const people = document.get('people');
  if (document.errors.length > 0 || !isSeq(people)) return undefined;
  const there = people.items.find((item) => isMap(item) && item.get('name') === person.name);
  if (isMap(there)) {
    for (const [key, value] of Object.entries(person))
      if (value !== undefined && !there.has(key)) there.set(key, value);
  } else {
    const item = document.createNode(person);
    item.comment = ` ${note}`;
    people.add(item);
  }
  return document.toString({ lineWidth: 0 });
};
