// "ethylene, by mass": which glycol and how it is counted, as far as a question says.
import type { Basis, Glycol } from '../../../trade/tables/glycol.ts';
import type { Asked } from '../asking/asked.ts';

export type Mixture = {
  readonly glycol: Glycol;
  readonly by: Basis;
  readonly assumed: readonly string[];
};

/** What is not said is taken as ethylene glycol by volume, as testers and labels have it, and is named as assumed. */
export function mixtureIn(asked: Asked): Mixture {
  const propylene = /\b(?:propylene|propylen|mpg)\b|propylenglykol/.test(asked.plain);
  const ethylene = /\b(?:ethylene|ethylen|meg)\b|ethylenglykol/.test(asked.plain);
  const mass = /\bby (?:mass|weight)\b|\bwt\b|\bmass\b|gewicht|masse/.test(asked.plain);
  const volume = /\bby vol(?:ume)?\b|\bvol\b|volumen/.test(asked.plain);
  return {
    glycol: propylene ? 'propylene' : 'ethylene',
    by: mass ? 'mass' : 'volume',
    assumed: [
      ...(propylene || ethylene ? [] : ['ethylene glycol']),
      ...(mass || volume ? [] : ['by volume']),
    ],
  };
}

/** The sentence that names what was assumed; empty where nothing was. */
export const sayAssumed = (assumed: readonly string[]): string =>
  assumed.length === 0 ? '' : ` Assumed: ${assumed.join(', ')}.`;
