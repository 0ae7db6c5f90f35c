import type { Problem, Result } from '../../src/trade/result.ts';

/** The value of a calculation that the test expects to succeed. */
export function valueIn<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  throw new Error(`Expected a value, got: ${result.problem.what} ${result.problem.doThis}`);
}

/** The problem of a calculation that the test expects to be refused. */
export function problemIn<T>(result: Result<T>): Problem {
  if (!result.ok) return result.problem;
  throw new Error(`Expected a refusal, got: ${JSON.stringify(result.value)}`);
}
