// An answer that refuses a request: one line what, one line what to do.

export type Refusal = {
  readonly status: number;
  readonly what: string;
  readonly doThis: string;
  /** What the page can ask for so that it is taken: the poster's own code, or a pass. */
  readonly needs?: 'code' | 'pass';
};

/** A refusal; carried as a value through the routes and drawn as JSON or as a page at the end. */
export function refusal(
  status: number,
  what: string,
  doThis: string,
  needs?: Refusal['needs'],
): Refusal {
  return { status, what, doThis, ...(needs === undefined ? {} : { needs }) };
}

export function isRefusal(value: unknown): value is Refusal {
  return typeof value === 'object' && value !== null && 'doThis' in value && 'status' in value;
}
