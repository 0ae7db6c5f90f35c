// Which signs of a piece count: not a number's, not a name's, not those of an exception.
import type { VerbHit } from '../clause.ts';
import type { Cue } from '../cue-table.ts';
import type { ActionClass } from '../pack.ts';
import type { Figure } from '../scan/figure.ts';
import type { Token } from '../tidy/token.ts';

/** "Kein Ölverlust": a fault that is denied is one, whatever stands beside it. */
export const isDenied = (cue: Cue, cues: readonly Cue[]): boolean =>
  cue.name === 'defect' && cues.some((no) => no.name === 'no' && cue.from - no.to === 1);

/** "No 4 injector is out": the sign of a number, not "none". */
export const isNumberSign = (tokens: readonly Token[], cue: Cue): boolean =>
  cue.to - cue.from === 1 &&
  tokens[cue.from]?.word === 'no' &&
  tokens[cue.from]?.capital === true &&
  tokens[cue.to]?.kind === 'number' &&
  tokens[cue.to + 1]?.entry?.plan === true;

/** A sign that is only a word of a part's name: the play in "end play", the noise in "noise cover". */
export function nameOnly(cue: Cue, tokens: readonly Token[], told: boolean): boolean {
  if (
    cue.to - cue.from !== 1 ||
    (cue.name !== 'defect' && cue.name !== 'nearly' && cue.name !== 'good') ||
    !tokens[cue.from]?.entry?.plan
  )
    return false;
  return (
    told || tokens[cue.from + 1]?.entry?.plan === true || tokens[cue.from - 1]?.entry?.plan === true
  );
}

/** Positions right behind "except", "bar", "but not": and "not" where something was reported before it. */
export function exceptions(
  figures: readonly Figure[],
  cues: readonly Cue[],
  verbs: readonly VerbHit[],
  moved: readonly ActionClass[],
  from: number,
): { excepted: readonly Figure[]; signs: readonly Cue[] } {
  const excepted: Figure[] = [];
  const signs: Cue[] = [];
  for (const cue of cues) {
    if (cue.name !== 'except' && cue.name !== 'not') continue;
    const behind = figures.find(
      (figure) => figure.kind === 'positions' && figure.from >= cue.to && figure.from - cue.to <= 1,
    );
    if (!behind) continue;
    const reported =
      verbs.some((verb) => verb.at < cue.from) ||
      moved.length > 0 ||
      cues.some((one) => one.name === 'finished' && one.to <= cue.from);
    if (cue.name === 'not' && (cue.from === from || !reported)) continue;
    if (!excepted.includes(behind)) excepted.push(behind);
    signs.push(cue);
  }
  return { excepted, signs };
}
