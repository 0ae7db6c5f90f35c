// Texts in columns that are looked up. PostgreSQL takes no character of code 0 and no half of a pair; job numbers and ids
// come from people and platforms, so both are written as % and four hexadecimal digits.

/** The text as a column takes it; different texts stay different. */
export const keyOf = (text: string): string =>
  text.replace(
    /[%\u0000\p{Cs}]/gu,
    (sign) => `%${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

/** The text behind `keyOf`. */
export const textOf = (key: string): string =>
  key.replace(/%([0-9a-f]{4})/gu, (_, code: string) =>
    String.fromCharCode(Number.parseInt(code, 16)),
  );
