// An answer that refuses a request: one line what, one line what to do.

export type Refusal = {
  readonly status: number;
  readonly what: string;
  readonly doThis: string;
};

/** A refusal; carried as a value through the routes and drawn as JSON or as a page at the end. */
export function refusal(status: number, what: string, doThis: string): Refusal {
  return { status, what, doThis };
}

export function isRefusal(value: unknown): value is Refusal {
  return typeof value === 'object' && value !== null && 'doThis' in value && 'status' in value;
}
