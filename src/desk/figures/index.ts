// Every kind of question for a figure, in the order in which they are tried. The first that knows the question has it.
import { checkCharacter } from './codes/check-character.ts';
import { codeFits } from './codes/code-fits.ts';
import { codesCompared } from './codes/codes-compared.ts';
import { sameCode } from './codes/same-code.ts';
import { troubleBytes } from './codes/trouble-bytes.ts';
import { troubleCode } from './codes/trouble-code.ts';
import { vehicleNumber } from './codes/vehicle-number.ts';
import { concentrationOf } from './coolant/concentration.ts';
import { freezePointOf } from './coolant/freeze-point.ts';
import { partRefill } from './coolant/part-refill.ts';
import { replaceToTarget } from './coolant/replace-to-reach.ts';
import { stillOut } from './coolant/still-out.ts';
import type { AnyFigureKind } from './figure-kind.ts';
import { convertUnit } from './readings/convert-unit.ts';
import { cylinders } from './readings/cylinders.ts';
import { valueInRange } from './readings/value-in-range.ts';
import { winding } from './readings/winding.ts';
import { fastenerOrder } from './tightening/fastener-order.ts';
import { preload, proofLoadOf } from './tightening/preload.ts';
import { stageInRange } from './tightening/stage-in-range.ts';
import { toolInDate } from './tightening/tool-in-date.ts';
import { wrenchTolerance } from './tightening/tool-tolerance.ts';
import { wrenchWithExtension } from './tightening/wrench-with-extension.ts';
import { doneBy } from './time/done-by.ts';
import { hoursBooked } from './time/hours-booked.ts';
import { howLong } from './time/how-long.ts';
import { readyWhen } from './time/ready-when.ts';
import { adjuster } from './valves/adjuster-turn.ts';
import { outOfRange } from './valves/clearances-out.ts';
import { shim } from './valves/shim.ts';
import { shortestRound } from './valves/valve-round.ts';
import { valvesAtStop } from './valves/valves-at-stop.ts';

export const FIGURE_KINDS: readonly AnyFigureKind[] = [
  convertUnit,
  wrenchWithExtension,
  proofLoadOf,
  preload,
  wrenchTolerance,
  toolInDate,
  fastenerOrder,
  winding,
  cylinders,
  outOfRange,
  stageInRange,
  valueInRange,
  partRefill,
  replaceToTarget,
  freezePointOf,
  concentrationOf,
  stillOut,
  shim,
  adjuster,
  shortestRound,
  valvesAtStop,
  vehicleNumber,
  codesCompared,
  troubleCode,
  troubleBytes,
  sameCode,
  checkCharacter,
  codeFits,
  howLong,
  doneBy,
  hoursBooked,
  readyWhen,
];
