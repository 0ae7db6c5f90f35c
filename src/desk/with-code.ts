// A person's own code written into the text of the settings, or taken out: comments and order of the file stay as they are.
import { isMap, isSeq, parseDocument } from 'yaml';

/**
 * @param code salted hash; taken out where it is undefined
 * @returns undefined where the settings list nobody of that name
 */
export const withCode = (
  text: string,
  name: string,
  code: string | undefined,
): string | undefined => {
  const document = parseDocument(text);
  const people = document.get('people');
  if (document.errors.length > 0 || !isSeq(people)) return undefined;
  const person = people.items.find((item) => isMap(item) && item.get('name') === name);
  if (!isMap(person)) return undefined;
  if (code === undefined) person.delete('code');
  else person.set('code', code);
  return document.toString({ lineWidth: 0 });
};
