// "check digit for 7992739871 mod 10": the check of an open standard, worked out or tried.
import {
  type CheckSystem,
  checkFor,
  checkSystemNamed,
  verifyCheck,
} from '../../../trade/check-character.ts';
import { bareCode } from '../../../trade/look-alike.ts';
import type { Asked } from '../asking/asked.ts';
import { answerOf, asks, figureKind, means, type Read, stopped } from '../figure-kind.ts';

export type CheckInputs = {
  readonly code: string;
  readonly system: CheckSystem;
  /** The check is at the end of the code already and is tried. */
  readonly tries: boolean;
};

const SYSTEM = /\b(?:mod|modulo)\s*-?\s*(\d{2}(?:\s*[,/-]\s*\d{1,2})?)(?!\d)/;
const WANTED = /\b(?:check (?:digit|characters?)|checksum|prüfziffer|prüfzeichen)\b/;
const TRIES = /\b(?:hold|holds|ok|okay|right|valid|correct|good|stimmt|gültig|fits?)\b/;
const CODE = /(?<![\p{L}\d-])([a-z0-9][a-z0-9-]*\d[a-z0-9*-]*|\d[a-z0-9*-]+)(?![\p{L}\d])/u;

export const checkCharacter = figureKind<CheckInputs>({
  kind: 'check-character',
  means: 'a check character of ISO/IEC 7064 or 7812, worked out or tried',
  examples: [
    {
      type: 'check digit for 7992739871 mod 10',
      means: { code: '7992739871', system: 'mod 10', tries: false },
    },
    {
      type: 'does 07940 hold by mod 11,10',
      means: { code: '07940', system: 'mod 11,10', tries: true },
    },
  ],
  read,
  answer: ({ code, system, tries }) => {
    if (tries) return answerOf(verifyCheck(code, system));
    const check = checkFor(code, system);
    if (!check.ok) return stopped(check.problem);
    return {
      says: `${check.value} (the check of ${code} by ${system}; the whole code is ${code}${check.value}).`,
    };
  },
});

function read(asked: Asked): Read<CheckInputs> {
  const { plain } = asked;
  const found = SYSTEM.exec(plain);
  const wanted = WANTED.test(plain);
  if (/\b(?:vin|form|pattern)\b/.test(plain) || !(asked.question || wanted)) return undefined;
  const rest = found ? plain.replace(found[0], ' ') : plain;
  const typed = CODE.exec(rest)?.[1];
  if (typed === undefined || typed.length < 3) return undefined;
  const tries = !wanted || TRIES.test(rest);
  if (!found) {
    if (!wanted) return undefined;
    return asks(
      'By which rule?',
      ['mod 10', 'mod 11-2', 'mod 37,36'].map((each) => ({
        label: each,
        text: `${plain} ${each}`,
      })),
    );
  }
  if (!wanted && !TRIES.test(rest)) return undefined;
  const system = checkSystemNamed(`mod ${found[1] ?? ''}`);
  if (system === undefined) {
    return asks(`"${found[0].trim()}" is no check that is known here.`, [
      { label: 'mod 10', text: plain.replace(found[0], 'mod 10') },
      { label: 'mod 11-2', text: plain.replace(found[0], 'mod 11-2') },
      { label: 'mod 37,36', text: plain.replace(found[0], 'mod 37,36') },
    ]);
  }
  return means({ code: bareCode(typed), system, tries });
}
