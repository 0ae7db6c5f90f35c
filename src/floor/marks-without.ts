// The small marks of the store without one person: what strangers posted and nobody took in, what waits for its job, who was
// asked and who has a page.
import { typedWithout, withoutNames } from '../desk/names-out.ts';

export type WhoGoes = {
  /** Names as people write them, in capital or small letters. */
  readonly names: readonly string[];
  /** What the chat platforms call them. */
  readonly ids: readonly string[];
};

type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

const parsed = (value: string): Json | undefined => {
  try {
    return JSON.parse(value) as Json;
  } catch {
    return undefined;
  }
};

const isObject = (value: Json): value is { readonly [key: string]: Json } =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Undefined where the whole of it is about the person. */
const cleaned = (value: Json, who: WhoGoes): Json | undefined => {
  if (typeof value === 'string')
    return who.ids.includes(value) ? undefined : typedWithout(value, who.names);
  if (Array.isArray(value))
    return value.flatMap((each: Json): readonly Json[] => {
      const left = cleaned(each, who);
      return left === undefined ? [] : [left];
    });
  if (!isObject(value)) return value;
  if (typeof value.person === 'string' && who.ids.includes(value.person)) return undefined;
  return Object.fromEntries(
    Object.entries(value).map(([key, each]) => [
      key,
      key === 'text' && typeof each === 'string'
        ? typedWithout(each, who.names)
        : Array.isArray(each) || isObject(each)
          ? (cleaned(each, who) ?? null)
          : each,
    ]),
  );
};

/** What a mark is to be instead; the same value where nothing of the person is in it, empty where all of it is. */
export const markWithout = (name: string, value: string, who: WhoGoes): string => {
  if (value === '') return value;
  if (who.ids.some((id) => name.endsWith(`:${id}`) || name.includes(`:${id}:`))) return '';
  const json = parsed(value);
  if (json === undefined || typeof json !== 'object') return withoutNames(value, who.names);
  const left = cleaned(json, who);
  if (left === undefined) return '';
  const text = JSON.stringify(left);
  return text === JSON.stringify(json) ? value : text;
};
