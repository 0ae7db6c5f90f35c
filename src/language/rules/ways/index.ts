// Every way of saying, in the order in which they are asked.
import { droveItOver } from './drove-it-over.ts';
import { footOnThePedal } from './foot-on-the-pedal.ts';
import { spunOnTheKey } from './spun-on-the-key.ts';
import { startedItUp } from './started-it-up.ts';
import type { Way } from './way.ts';

export const WAYS: readonly Way[] = [startedItUp, spunOnTheKey, droveItOver, footOnThePedal];
