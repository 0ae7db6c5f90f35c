// "is 7QK9X2 the same as 7OK9X2": two readings of one code side by side.
import { compareCodes } from '../../../trade/look-alike.ts';
import { figureKind, means } from '../figure-kind.ts';

export type SameCodeInputs = { readonly first: string; readonly second: string };

const CODE = '([a-z0-9][a-z0-9.-]{2,30})';
const SAME = [
  new RegExp(
    `^(?:is|are)\\s+(?:code\\s+)?${CODE}\\s+(?:the\\s+)?same\\s+(?:code\\s+)?as\\s+(?:code\\s+)?${CODE}$`,
  ),
  new RegExp(`^(?:is|are)\\s+(?:codes?\\s+)?${CODE}\\s+and\\s+${CODE}\\s+the same$`),
  new RegExp(
    `^compare\\s+(?:codes?\\s+)?${CODE}\\s+(?:and|with|to|against)\\s+(?:code\\s+)?${CODE}$`,
  ),
  new RegExp(
    `^(?:ist|sind)\\s+${CODE}\\s+(?:das gleiche wie|gleich|und)\\s+${CODE}(?:\\s+gleich)?$`,
  ),
];

export const sameCode = figureKind<SameCodeInputs>({
  kind: 'same-code',
  means: 'whether two readings of a code are the same, and which characters may be misread',
  examples: [
    { type: 'is 7QK9X2 the same as 70K9X2', means: { first: '7qk9x2', second: '70k9x2' } },
    { type: 'compare code AB12-34 with A812-34', means: { first: 'ab12-34', second: 'a812-34' } },
  ],
  read: ({ plain }) => {
    for (const pattern of SAME) {
      const [, first, second] = pattern.exec(plain) ?? [];
      if (first && second && /\d/.test(first) && /\d/.test(second)) return means({ first, second });
    }
    return undefined;
  },
  answer: ({ first, second }) => ({ says: compareCodes(first, second).answer }),
});
