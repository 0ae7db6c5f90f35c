// Reads payloads without trusting their shape: what is missing or of another type is undefined, never an error.

export type Payload = Readonly<Record<string, unknown>>;

export const payload = (value: unknown): Payload | undefined =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Payload)
    : undefined;

/** What stands at a path such as "message.edited.ts". */
export const at = (from: unknown, path: string): unknown =>
  path
    .split('.')
    .reduce<unknown>(
      (value, key) =>
        Array.isArray(value)
          ? value[Number(key)]
          : Object.hasOwn(payload(value) ?? {}, key)
            ? payload(value)?.[key]
            : undefined,
      from,
    );

/** The string at a path; an empty one counts as missing. */
export const textAt = (from: unknown, path: string): string | undefined => {
  const value = at(from, path);
  return typeof value === 'string' && value !== '' ? value : undefined;
};

export const parseJson = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

/** A message's ts ("1700000000.000100", seconds since 1970 and a counter) as ISO time; undefined for anything else. */
export const timeOf = (ts: string | undefined): string | undefined => {
  if (ts === undefined || !/^\d{1,10}(?:\.\d{1,6})?$/u.test(ts)) return undefined;
  return new Date(Math.floor(Number(ts) * 1000)).toISOString();
};
