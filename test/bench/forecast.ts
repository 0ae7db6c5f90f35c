// How often the forecast holds on 2,000 jobs of a workshop of another kind; see other-workshop.ts.
import { calibrate } from './forecast-calibration.ts';

const CASES = 2_000;
const percent = (share: number): string => `${(100 * share).toFixed(1).padStart(5)} %`;

export const run = (): void => {
  console.log(
    `Forecasts of ${CASES} jobs of another workshop: ready by the likely time (50 % claimed), by the cautious one (90 %)`,
  );
  for (const { name, likely, cautious, toCautious, toEnd } of calibrate(CASES))
    console.log(
      `  ${name.padEnd(38)} ${percent(likely)} ${percent(cautious)}; median ${Math.round(toCautious)} working minutes to the cautious time, ${Math.round(toEnd)} to the end`,
    );
  console.log(
    '  Where no past job is known the plan is taken as right: a planner whose times are short makes the likely time early.',
  );
};
