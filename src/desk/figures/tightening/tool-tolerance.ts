// "how far off can a torque wrench be at 80 nm": what the bolt may have got.
import { toolTolerance } from '../../../trade/tightening/torque-tool.ts';
import type { Quantity } from '../../../trade/units.ts';
import { quantityOf, saidOf } from '../asking/asked.ts';
import { answerOf, figureKind, means } from '../figure-kind.ts';

export const wrenchTolerance = figureKind<Quantity>({
  kind: 'tool-tolerance',
  means: 'how far off a torque wrench may be',
  examples: [
    { type: 'how far off can a torque wrench be at 80 nm', means: { value: 80, unit: 'N.m' } },
    { type: 'tolerance of the wrench at 8 nm?', means: { value: 8, unit: 'N.m' } },
  ],
  read: (asked) => {
    const [torque] = saidOf(asked, 'torque');
    const about =
      /\b(?:wrench|tool|schlüssel)\b/.test(asked.plain) &&
      /\b(?:toleranc|toleranz|accura|how (?:far|much) off|genau|abweich)/.test(asked.plain);
    return asked.question && about && torque ? means(quantityOf(torque, 'N.m')) : undefined;
  },
  answer: (torque) => answerOf(toolTolerance(torque)),
});
