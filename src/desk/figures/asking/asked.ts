// "@bot what is 45 lb ft in nm, please?": the question without what is only politeness, and the figures in it.
import { kindOf, type Quantity, type QuantityKind, type Unit } from '../../../trade/units.ts';
import { typedNumber, wordsAsNumbers } from './typed-number.ts';
import { typedUnitAt } from './typed-unit.ts';

/** One figure of a question. */
export type Said = {
  readonly value: number;
  /** Undefined for a bare number. */
  readonly unit: Unit | undefined;
  /** What the unit may stand for, where the word alone does not say: a gallon is one of two. */
  readonly unsure: readonly Unit[];
  readonly decimals: number;
  /** Where it stands in `plain`: the figure with its unit, and the unit alone. */
  readonly from: number;
  readonly to: number;
  readonly unitFrom: number;
};

export type Asked = {
  /** As it was typed. */
  readonly raw: string;
  /** Small letters, single spaces, number words as figures; without greeting, "please" and the marks at the end. */
  readonly plain: string;
  readonly figures: readonly Said[];
  /** It has a question mark or begins with a word that asks or orders. */
  readonly question: boolean;
  /** It holds a word of a report: drained, torqued, fitted. */
  readonly reports: boolean;
};

/** A question for a figure is short; a longer text is talk or a report. */
const LONGEST = 240;

const GREETING = /^(?:(?:@\S+|hey|hi|hello|ok|okay|so|and|bot|chargehand|moin|hallo)[\s,:!]+)+/;
const ASKS =
  /^(?:(?:in|at|to|on|with|for) (?:what|which)|what|whats|what's|wats|how|hows|how's|which|is|are|does|do|did|can|could|should|would|will|when|whens|where|tell me|give me|show me|show|work out|calculate|calc|convert|check|compare|explain|need to know|any idea|was|wie|wieviel|welche[rsnm]?|ist|sind|wann|reicht|passt|kann|darf|rechne|prüfe)\b/;
const REPORTS =
  /(?<![\p{L}])(?:drained|filled|refilled|topped|torqued|torque[dt]?\s+to|tightened|loosened|undone|done|set\s+(?:to|at|all|both)|fitted|renewed|changed|replaced|swapped|finished|nipped|pulled|entered|noted|cleared|bled|booked|worked|started|waiting|ordered|eingestellt|angezogen|abgelassen|aufgefüllt|gefüllt|gemacht|fertig|eingetragen|erledigt)(?![\p{L}])/u;

const NUMBER =
  /(?<![\p{L}\d]|\d[.,:]|\p{L}[-.])(?:(?<![)\d])([-−–]|minus\s+))?(?:(\d+)\s+)?(\d+)\/(\d+)(?![\d/])|(?<![\p{L}\d]|\d[.,:]|\p{L}[-.])(?:(?<![)\d])([-−–]|minus\s+))?(\d+(?:[.,]\d+)*)(?!\d|[.,]\d|:\d)/gu;

/** Reads a message as a question. Undefined for one that is too long or empty. */
export function readAsked(raw: string): Asked | undefined {
  if (raw.length > LONGEST) return undefined;
  const tidy = raw
    .replace(/½/g, ' 1/2')
    .replace(/¼/g, ' 1/4')
    .replace(/¾/g, ' 3/4')
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[’‘]/g, "'")
    .replace(/[“”„″]/g, '"')
    .replace(/\s+/g, ' ')
    .trim();
  // Some signs are written out by several letters.
  if (tidy.length > LONGEST) return undefined;
  const mark = tidy.includes('?');
  const plain = wordsAsNumbers(
    withoutTail(tidy.replace(GREETING, '')).replace(/^(?:please|pls|bitte)\s+/, ''),
  ).trim();
  if (plain === '') return undefined;
  return {
    raw,
    plain,
    figures: figuresIn(plain),
    question: mark || ASKS.test(plain),
    reports: REPORTS.test(plain),
  };
}

/** Without the marks and the politeness at the end, however many there are. */
function withoutTail(text: string): string {
  let left = text;
  for (;;) {
    const shorter = left
      .replace(/[\s,!.?]$/, '')
      .replace(/(?<!\p{L})(?:please|pls|plz|thanks|thx|ta|cheers|mate|bitte|danke)$/u, '');
    if (shorter === left) return left;
    left = shorter;
  }
}

function figuresIn(plain: string): Said[] {
  const figures: Said[] = [];
  for (const match of plain.matchAll(NUMBER)) {
    const [all, signA, whole, top, bottom, signB, digits] = match;
    const end = match.index + all.length;
    const spaces = /^ ?-?/.exec(plain.slice(end))?.[0].length ?? 0;
    const unit = typedUnitAt(plain, end, true) ?? typedUnitAt(plain, end + spaces, false);
    const gap = typedUnitAt(plain, end, true) ? 0 : spaces;
    const parts = top !== undefined && bottom !== undefined;
    // "653/5" is a code and "5/6" a count: a stroke makes a fraction only before a unit.
    if (parts && (!unit || !/^(?:2|4|8|16|32|64)$/.test(bottom))) continue;
    const number = parts
      ? { value: Number(whole ?? 0) + Number(top) / Number(bottom), decimals: 3 }
      : typedNumber(digits ?? '');
    const sign = signA ?? signB;
    figures.push({
      value: sign === undefined ? number.value : -number.value,
      decimals: number.decimals,
      unit: unit?.unit,
      unsure: unit?.unsure ?? [],
      from: match.index,
      to: unit ? end + gap + unit.length : end,
      unitFrom: unit ? end + gap : end,
    });
  }
  return figures;
}

/** What the unit of a figure measures; undefined for a bare number. */
export function kindOfSaid(said: Said): QuantityKind | undefined {
  return said.unit && kindOf(said.unit);
}

/** The figures of one kind of quantity, in the order typed. */
export function saidOf(asked: Asked, kind: QuantityKind): readonly Said[] {
  return asked.figures.filter((said) => kindOfSaid(said) === kind);
}

/** The figure with the unit it was typed in, or with the one given for a bare number. */
export function quantityOf(said: Said, bareUnit: Unit): Quantity {
  return { value: said.value, unit: said.unit ?? bareUnit };
}

/** The text between a figure and the one before it, and between it and the next. */
export function aroundSaid(asked: Asked, said: Said): { before: string; after: string } {
  const index = asked.figures.indexOf(said);
  const from = asked.figures[index - 1]?.to ?? 0;
  const to = asked.figures[index + 1]?.from ?? asked.plain.length;
  return { before: asked.plain.slice(from, said.from), after: asked.plain.slice(said.to, to) };
}
