// A clock that jumps back: told once for each jump, since nothing is lost by it and somebody has to set it.
import { StoreTrouble } from './store-trouble.ts';

/** Milliseconds a clock may go back without a word: corrections over the network. */
const SLACK_MS = 60_000;

/**
 * @param newest the latest time known, in milliseconds since 1970; `-Infinity` where none is
 * @returns to be told each time in the order things arrive
 */
export function clockWatch(
  where: string,
  onTrouble: (trouble: StoreTrouble) => void,
  newest = Number.NEGATIVE_INFINITY,
): (at: string) => void {
  let last = newest;
  let told = false;
  return (given) => {
    const at = Date.parse(given);
    if (at >= last) {
      last = at;
      told = false;
    } else if (at < last - SLACK_MS && !told) {
      told = true;
      onTrouble(
        new StoreTrouble(
          'clock-back',
          `The clock of this machine went back by ${Math.round((last - at) / 1000)} s, to ${given}:`,
          where,
          'Set the clock. Messages stay in the order in which they arrived; times given from now on are as the clock says.',
        ),
      );
    }
  };
}
