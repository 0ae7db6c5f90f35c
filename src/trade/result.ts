/** What stopped a calculation, in plain words: `what` is the fact, `doThis` is the next thing for a person to do. */
export type Problem = { readonly what: string; readonly doThis: string };

/** A calculation either found its value or says why there is none. It never throws for what people type. */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: Problem };

/** A calculation that has its value. */
export function found<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value };
}

/** A calculation without a value: what stopped it, and what to do. */
export function refused(
  what: string,
  doThis: string,
): { readonly ok: false; readonly problem: Problem } {
  return { ok: false, problem: { what, doThis } };
}
