// A complaint on standard error: one line what, one line what to do.

/** @returns the exit code: 2, wrong use, unless said otherwise */
export const complain = (what: string, doThis: string, code = 2): number => {
  process.stderr.write(`${what}\n${doThis}\n`);
  return code;
};
