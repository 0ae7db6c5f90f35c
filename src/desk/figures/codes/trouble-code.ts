// "spn 653 fmi 5", "what does p0203 mean": a trouble code in words.
import { explainTroubleCode, parseTroubleCode } from '../../../trade/trouble-code.ts';
import type { Asked } from '../asking/asked.ts';
import { figureKind, means, type Read, stopped } from '../figure-kind.ts';

export type CodesInputs = { readonly codes: readonly string[] };

const HEAVY =
  /\bspn\s*[:=]?\s*\d{1,7}\s*(?:[,;/-]|and)?\s*fmi\s*[:=]?\s*\d{1,3}(?:\s*,?\s*(?:oc|count)\s*[:=]?\s*\d{1,3}|\s*x\s*\d{1,3})?/;
const SHORT = /(?<![\d/.])\d{2,6}\s?\/\s?\d{1,2}(?![\d/.])/;
const LONE_SPN = /\bspn\s*[:=]?\s*\d{1,7}/;
const LIGHT = /(?<![\p{L}\d])[pcbu][ -]?[0-3o][\do][0-9a-fo]{2}(?:[-:][0-9a-f]{2})?(?![\p{L}\d])/u;
const WITH_LEAD = new RegExp(
  `${HEAVY.source}|${LONE_SPN.source}|${LIGHT.source}|${SHORT.source}`,
  'gu',
);
const ALONE = new RegExp(`${HEAVY.source}|${LIGHT.source}`, 'gu');
/** Words that ask for a meaning, and the little words around them. */
const LEAD =
  /\b(?:what(?:'?s| is| are| does| do)?|meaning|means?|explain|bedeutet|heißt|heisst|was ist)\b/;
const FILLER =
  /\b(?:what(?:'?s)?|is|are|does|do|the|a|an|meaning|means?|explain|of|for|code|codes|fault|faults|trouble|dtc|and|bedeutet|heißt|heisst|was|der|die|fehlercode|fehler|mean|say|tell|me|about|stand|stands)\b|[\s,;:?"']/g;

export const troubleCode = figureKind<CodesInputs>({
  kind: 'trouble-code',
  means: 'a trouble code in words, with its cylinder',
  examples: [
    { type: 'spn 653 fmi 5', means: { codes: ['spn 653 fmi 5'] } },
    { type: 'p0203', means: { codes: ['p0203'] } },
    { type: 'what does P0301 mean', means: { codes: ['p0301'] } },
    { type: 'what is 657/5', means: { codes: ['657/5'] } },
  ],
  read,
  answer: ({ codes }) => {
    const read = codes.map((code) => parseTroubleCode(code));
    const [first] = read;
    if (read.length === 1 && first && !first.ok) return stopped(first.problem);
    return {
      says: read
        .map((each) =>
          each.ok ? explainTroubleCode(each.value) : `${each.problem.what} ${each.problem.doThis}`,
        )
        .join(' '),
    };
  },
});

function read(asked: Asked): Read<CodesInputs> {
  const { plain } = asked;
  const lead = LEAD.test(plain) || (asked.question && /^(?:is|explain)\b/.test(plain));
  const codes = [...plain.matchAll(lead ? WITH_LEAD : ALONE)].map(([code]) => code);
  if (codes.length === 0 || codes.length > 6) return undefined;
  let rest = plain;
  for (const code of codes) rest = rest.replace(code, ' ');
  // A code among other words is part of a report: "faults read, P0203 stored".
  return rest.replace(FILLER, '') === '' ? means({ codes }) : undefined;
}
