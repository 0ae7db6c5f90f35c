// Which valve a clearance belongs to: "inlet 0.30 exhaust 0.60", "0.30 in, 0.60 ex", "Einlass 0,30".
import type { Step } from '../../../shared/plan.ts';
import type { Clause } from '../clause.ts';

type Kind = 'inlet' | 'exhaust';

const WORDS: Readonly<Record<string, Kind>> = {
  inlet: 'inlet',
  inlets: 'inlet',
  intake: 'inlet',
  intakes: 'inlet',
  inl: 'inlet',
  einlass: 'inlet',
  einlaß: 'inlet',
  exhaust: 'exhaust',
  exhausts: 'exhaust',
  ex: 'exhaust',
  exh: 'exhaust',
  auslass: 'exhaust',
  auslaß: 'exhaust',
};

const kindOfWord = (word: string): Kind | undefined =>
  Object.hasOwn(WORDS, word) ? WORDS[word] : undefined;

const kindOf = (text: string): Kind | undefined => {
  for (const word of text.toLowerCase().match(/\p{L}+/gu) ?? []) {
    const kind = kindOfWord(word);
    if (kind) return kind;
  }
  return undefined;
};

type Mark = { readonly at: number; readonly kind: Kind };

/** The words for valves in a clause; "in" is one only beside a word for the other valve. */
function marksIn(clause: Clause): Mark[] {
  const marks: Mark[] = [];
  const loose: Mark[] = [];
  for (const piece of clause.pieces) {
    for (let i = piece.from; i < piece.to; i += 1) {
      const word = piece.tokens[i]?.word ?? '';
      const kind = kindOfWord(word);
      if (kind) marks.push({ at: i, kind });
      else if (word === 'in') loose.push({ at: i, kind: 'inlet' });
    }
  }
  return marks.length > 0 && marks.every((mark) => mark.kind === 'exhaust')
    ? [...marks, ...loose].sort((a, b) => a.at - b.at)
    : marks;
}

/**
 * The valve a clearance figure of a clause belongs to, as the plan names it.
 *
 * @param value the figure, in the unit in which it was said
 */
export function valveSaid(
  step: Step | undefined,
  clause: Clause,
  value: number | undefined,
): string | undefined {
  const ask = step?.report?.find((one) => one.kind === 'clearance');
  if (ask?.kind !== 'clearance' || value === undefined) return undefined;
  const marks = marksIn(clause);
  if (marks.length === 0) return undefined;
  const sized = clause.pieces
    .flatMap((piece) => piece.figures)
    .flatMap((figure) =>
      figure.kind === 'quantity' || figure.kind === 'number'
        ? [{ from: figure.from, value: figure.value }]
        : [],
    );
  const at = sized.find((figure) => figure.value === value)?.from;
  const first = sized[0]?.from;
  if (at === undefined || first === undefined) return undefined;
  const leads = (marks[0]?.at ?? 0) < first;
  const mark = leads ? marks.filter((one) => one.at < at).at(-1) : marks.find((one) => one.at > at);
  const fits = ask.valves.filter((one) => kindOf(one.valve) === mark?.kind);
  return mark && fits.length === 1 ? fits[0]?.valve : undefined;
}
