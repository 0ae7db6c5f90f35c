// What a word is for the cutting of a line: a noun of the plan, a verb, a state.
import type { Cue } from '../cue-table.ts';
import type { Tongue } from '../lexicon.ts';
import type { Token } from '../tidy/token.ts';
import { PREDICATE } from './inner-cuts.ts';
import { laidAside } from './laid-aside.ts';
import { namesThing } from './particles.ts';
import { CROSS, TICKS } from './signs.ts';

export function anchorOf(
  tokens: readonly Token[],
  i: number,
  to: number,
  inFigure: Uint8Array,
  cues: readonly Cue[],
  tongue: Tongue,
): 'noun' | 'verb' | 'state' | '' {
  const token = tokens[i];
  if (!token) return '';
  if (token.kind === 'sign') return TICKS.test(token.word) || CROSS.test(token.word) ? 'state' : '';
  const entry = token.entry;
  if (inFigure[i] || token.kind !== 'word' || !entry) return '';
  if (cues.some((cue) => cue.from === i && PREDICATE.has(cue.name))) return 'state';
  if (laidAside(tokens, i, i, to, tongue.pack)) return 'state';
  if (tongue.pack.particles[token.word] && !entry.plan) {
    if (namesThing(tokens, i, to, tongue)) return 'noun';
    const next = tokens[i + 1];
    const leads =
      !tongue.pack.adverbs?.includes(token.word) &&
      next?.kind === 'word' &&
      i + 1 < to &&
      !inFigure[i + 1] &&
      (/^(the|a|an|this|that|my|its)$/.test(next.word) ||
        (next.entry?.plan === true && token.word !== 'off' && token.word !== 'out'));
    // "Gearbox in bolts finger tight": of the next noun something else is said.
    const opensNext =
      tokens[i - 1]?.entry?.plan === true &&
      next?.entry?.plan === true &&
      cues.some(
        (cue) =>
          cue.from === i + 2 && /^(hand-tight|not|not-yet|later|next|left-to-do)$/.test(cue.name),
      );
    return leads && !opensNext ? '' : 'state';
  }
  if (entry.forms.includes('past') && !(entry.plan && tokens[i + 1]?.entry?.plan)) return 'verb';
  if (entry.forms.includes('ing') && !entry.plan) return 'verb';
  if (entry.plan) return 'noun';
  return tongue.pack.states[token.word] ? 'state' : '';
}
