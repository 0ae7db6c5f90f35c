// "check vin 1M8GDM9AXKP042788": check digit and characters of a vehicle number.
import { checkVin } from '../../../trade/vin.ts';
import { answerOf, figureKind, means } from '../figure-kind.ts';

export type VinInputs = { readonly vin: string };

const NUMBER =
  /\b(?:vin|vehicle (?:identification )?number|chassis (?:no|number)|fahrgestellnummer|fin)\b\s*(?:no|number|nr)?[.:=]?\s*([a-z0-9][a-z0-9 -]{3,30}[a-z0-9])/;
/** Seventeen characters in a row, letters and digits among them. */
const WHOLE = /\b((?=[a-z]*\d)(?=\d*[a-z])[a-z0-9]{17})\b/;
const TAIL = /\s*(?:ok|okay|right|valid|good|correct|gültig|richtig)$/;

export const vehicleNumber = figureKind<VinInputs>({
  kind: 'vin',
  means: 'the check digit of a vehicle number, and a likely misread character',
  examples: [
    { type: 'check vin 1M8GDM9AXKP042788', means: { vin: '1M8GDM9AXKP042788' } },
    { type: 'is vin SGZCZ43D13S812715 ok?', means: { vin: 'SGZCZ43D13S812715' } },
  ],
  read: ({ plain, question }) => {
    const whole = WHOLE.exec(plain)?.[1];
    if (
      whole !== undefined &&
      question &&
      (plain === whole || /\b(?:vin|fin|chassis)\b/.test(plain))
    ) {
      return means({ vin: whole.toUpperCase() });
    }
    const typed = NUMBER.exec(plain)?.[1]?.replace(TAIL, '');
    const asked = question || /^(?:vin|fin|check)\b/.test(plain);
    if (typed === undefined || !asked || !/\d/.test(typed)) return undefined;
    const bare = typed.replace(/[\s-]/g, '').toUpperCase();
    // "Check vin on the plate at 3" is no number; alone "vin …" must be one in full.
    if (/\s/.test(typed) && bare.length !== 17) return undefined;
    if (!question && bare.length !== 17) return undefined;
    return plain.endsWith(typed) || TAIL.test(plain) ? means({ vin: bare }) : undefined;
  },
  answer: ({ vin }) => answerOf(checkVin(vin)),
});
