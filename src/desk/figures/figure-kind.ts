// What one kind of question for a figure is made of: how it is typed, what it asks the calculation, how it is answered.
import type { JobView } from '../../job/view.ts';
import type { LabourBook } from '../../trade/labour.ts';
import type { Problem, Result } from '../../trade/result.ts';
import type { Unit } from '../../trade/units.ts';
import type { WorkCalendar } from '../../trade/work-calendar.ts';
import type { Asked } from './asking/asked.ts';

/** A tool as the register has it; dates are ISO 8601 days. */
export type RegisteredTool = {
  readonly id: string;
  readonly kind: string;
  readonly title?: string;
  readonly range?: { readonly min: number; readonly max: number; readonly unit: string };
  readonly calibrated?: string;
  /** The last day on which it may be used. */
  readonly due?: string;
};

/** What some answers need beside the job; what is left out is said to be missing, or the question is not taken. */
export type FigureAround = {
  /** The register of tools. */
  readonly tools?: readonly RegisteredTool[];
  /** The workshop's shifts. */
  readonly calendar?: WorkCalendar;
  /** Clock entries as bookings, for hours on the job. */
  readonly labour?: LabourBook;
  /** When a job will be ready, in words. */
  readonly ready?: (view: JobView) => string;
  /** Whether the asker may see hours; they are not shown when left out. */
  readonly mayHours?: boolean;
};

export type Ground = FigureAround & {
  readonly view: JobView | undefined;
  /** ISO 8601 day, or instant with offset where the time of day is known. */
  readonly today: string;
};

/** One way to put the question so that it is clear: the label of its button, and the words it says. */
export type Choice = { readonly label: string; readonly text: string };

export type Reply = {
  /** The whole answer in one line, the figure first. */
  readonly says: string;
  /** The notice of the plan whose limits were used. */
  readonly notice?: string;
  /** Up to three, where the question was not clear. */
  readonly choices?: readonly Choice[];
  readonly picture?: { readonly svg: string; readonly alt: string };
};

/** A question as it is typed, and what the calculation is asked; the table of what can be typed is made of these. */
export type FigureExample<Inputs> = {
  readonly type: string;
  readonly means: Inputs;
  /** The plan of the job in whose thread it is typed, where it uses the plan. */
  readonly plan?: string;
};

/** What a question was read as: inputs for the calculation, or a reply where something is missing or unclear. */
export type Read<Inputs> = { readonly inputs: Inputs } | { readonly reply: Reply } | undefined;

export type FigureKind<Inputs> = {
  readonly kind: string;
  /** What it is good for, in a few words, for the table. */
  readonly means: string;
  readonly examples: readonly FigureExample<Inputs>[];
  /** Undefined: not a question of this kind. */
  readonly read: (asked: Asked, ground: Ground) => Read<Inputs>;
  readonly answer: (inputs: Inputs, ground: Ground) => Reply;
};

/** A kind whose inputs are nobody else's business. */
export type AnyFigureKind = {
  readonly kind: string;
  readonly means: string;
  readonly examples: readonly FigureExample<unknown>[];
  readonly read: (asked: Asked, ground: Ground) => Read<unknown>;
  readonly reply: (asked: Asked, ground: Ground) => Reply | undefined;
};

/** Joins reading and answering of one kind. A gallon, a quart, a pint or a mil that may be two things is asked about. */
export function figureKind<Inputs>(kind: FigureKind<Inputs>): AnyFigureKind {
  return {
    kind: kind.kind,
    means: kind.means,
    examples: kind.examples,
    read: kind.read,
    reply: (asked, ground) => {
      const read = kind.read(asked, ground);
      if (read === undefined) return undefined;
      if ('reply' in read) return read.reply;
      return askWhichUnit(asked) ?? kind.answer(read.inputs, ground);
    },
  };
}

/** The inputs of a question. */
export const means = <Inputs>(inputs: Inputs): { readonly inputs: Inputs } => ({ inputs });

/** A question back, in one sentence, with up to three ways to put it. */
export const asks = (says: string, choices: readonly Choice[] = []): { readonly reply: Reply } => ({
  reply: { says, ...(choices.length > 0 ? { choices: choices.slice(0, 3) } : {}) },
});

/** What stopped a calculation, as a reply without a figure. */
export const stopped = ({ what, doThis }: Problem): Reply => ({ says: `${what} ${doThis}` });

/** The answer of a calculation, or what stopped it. */
export const answerOf = (result: Result<{ readonly answer: string }>): Reply =>
  result.ok ? { says: result.value.answer } : stopped(result.problem);

/** How a unit is typed so that nothing else can be meant. */
const CLEAR: Readonly<Partial<Record<Unit, string>>> = {
  gal_us: 'US gal',
  gal_imp: 'imp gal',
  qt_us: 'US qt',
  qt_imp: 'imp qt',
  pt_us: 'US pt',
  pt_imp: 'imp pt',
};

export const typedClearly = (unit: Unit): string => CLEAR[unit] ?? unit;

function askWhichUnit(asked: Asked): Reply | undefined {
  const said = asked.figures.find(({ unsure }) => unsure.length > 0);
  if (!said) return undefined;
  const word = asked.plain.slice(said.unitFrom, said.to);
  const choices = said.unsure.map((unit) => ({
    label: typedClearly(unit),
    text: `${asked.plain.slice(0, said.unitFrom)}${said.unitFrom > 0 && /\d$/.test(asked.plain.slice(0, said.unitFrom)) ? ' ' : ''}${typedClearly(unit)}${asked.plain.slice(said.to)}`,
  }));
  return {
    says: `"${word}" may be ${choices.map(({ label }) => label).join(' or ')}: which one?`,
    choices,
  };
}
