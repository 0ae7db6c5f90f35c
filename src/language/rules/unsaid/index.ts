// Every sign that speaks over a report, in the order in which they are asked.
import { anotherTime } from './another-time.ts';
import { anotherVehicle } from './another-vehicle.ts';
import { awayOrSpent } from './away-or-spent.ts';
import { byHand } from './by-hand.ts';
import { delivered } from './delivered.ts';
import { document } from './document.ts';
import { figureOfSpeech } from './figure-of-speech.ts';
import { hearsay } from './hearsay.ts';
import { hearsayInDoubt } from './hearsay-in-doubt.ts';
import { hope } from './hope.ts';
import { oldPart } from './old-part.ts';
import { oneOfSeveral } from './one-of-several.ts';
import { order } from './order.ts';
import { placeOffTheVehicle } from './place-off-the-vehicle.ts';
import type { Sign } from './sign.ts';
import { soon } from './soon.ts';
import { vehicleByNumber } from './vehicle-by-number.ts';
import { wish } from './wish.ts';

export const SIGNS: readonly Sign[] = [
  soon,
  oneOfSeveral,
  figureOfSpeech,
  hope,
  wish,
  document,
  anotherTime,
  anotherVehicle,
  vehicleByNumber,
  hearsay,
  hearsayInDoubt,
  order,
  placeOffTheVehicle,
  awayOrSpent,
  delivered,
  oldPart,
  byHand,
];
