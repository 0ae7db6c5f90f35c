// "which codes came back": trouble codes before and after the work, from the job or typed.
import type { JobView } from '../../../job/view.ts';
import { parseTroubleCode, type TroubleCode } from '../../../trade/trouble-code.ts';
import { compareTroubleCodes } from '../../../trade/trouble-code-compare.ts';
import type { Asked } from '../asking/asked.ts';
import { asks, figureKind, type Ground, means, type Read } from '../figure-kind.ts';
import { asksIn } from '../plan-figure.ts';

export type ComparedInputs = {
  /** Oldest first. */
  readonly lists: readonly (readonly TroubleCode[])[];
  readonly ofJob?: string;
};

const CODES = /\b(?:codes?|faults?|dtcs?|trouble codes?|fehler(?:codes?)?)\b/;
const COMPARE =
  /\b(?:before and after|compare|compared|(?:came|come|coming) back|(?:is|are) .{0,30}\bback|cleared|gone|still (?:there|active)|(?:is|are) new|new codes|vergleich|vorher|wieder da|weg)\b/;
const EACH =
  /spn\s*[:=]?\s*\d{1,7}\s*[,;/-]?\s*fmi\s*[:=]?\s*\d{1,3}|(?<![\p{L}\d])[pcbu][0-3][0-9a-f]{3}(?![\p{L}\d])|(?<![\d/.])\d{2,6}\/\d{1,2}(?![\d/.])/gu;

export const codesCompared = figureKind<ComparedInputs>({
  kind: 'codes-compared',
  means: 'trouble codes before and after: cleared, still there, new, back again',
  examples: [
    {
      type: 'compare codes before P0203 P0301 after P0301',
      means: {
        lists: [
          [
            { family: 'J2012', code: 'P0203' },
            { family: 'J2012', code: 'P0301' },
          ],
          [{ family: 'J2012', code: 'P0301' }],
        ],
      },
    },
  ],
  read,
  answer: ({ lists, ofJob }) => {
    const { answer } = compareTroubleCodes(lists);
    return { says: ofJob === undefined ? answer : `${answer} From the reports on job ${ofJob}.` };
  },
});

function read(asked: Asked, ground: Ground): Read<ComparedInputs> {
  const { plain } = asked;
  const typed = /\b(?:before|vorher)\b(.*?)\b(?:after|now|nachher|danach|jetzt)\b(.*)$/.exec(plain);
  if (typed && (CODES.test(plain) || asked.question)) {
    const [before, after] = [codesIn(typed[1] ?? ''), codesIn(typed[2] ?? '')];
    const none = /\b(?:none|nothing|no codes?|clear|keine)\b/.test(typed[2] ?? '');
    if (before.length > 0 && (after.length > 0 || none)) return means({ lists: [before, after] });
  }
  if (!asked.question || !CODES.test(plain) || !COMPARE.test(plain)) return undefined;
  const { view } = ground;
  if (!view || codesIn(plain).length > 0 || /\btrim\b|\bcomponent\b/.test(plain)) return undefined;
  const lists = listsOf(view);
  if (lists.length === 0) {
    return asksIn(view, ['trouble-codes']).length === 0
      ? undefined
      : asks(
          `No trouble codes are reported on job ${view.job} yet, so there is nothing to compare.`,
        );
  }
  if (lists.length === 1) {
    return asks(
      `Only one reading of the trouble codes is on record on job ${view.job}. Read them again and report them; then they can be compared.`,
    );
  }
  return means({ lists, ofJob: view.job });
}

function codesIn(text: string): readonly TroubleCode[] {
  return [...text.matchAll(EACH)].flatMap(([code]) => {
    const read = parseTroubleCode(code);
    return read.ok ? [read.value] : [];
  });
}

/** One list for each step that asks for trouble codes and has a report, in the plan's order; an empty one for "none". */
function listsOf(view: JobView): readonly (readonly TroubleCode[])[] {
  return asksIn(view, ['trouble-codes'])
    .filter(({ ask }) => ask.ask !== 'cleared')
    .flatMap(({ step }) => {
      const acts = view.reports
        .map(({ act }) => act)
        .filter((act) => act.step === step.id && (act.kind === 'done' || act.kind === 'partial'));
      if (acts.length === 0) return [];
      return [acts.flatMap((act) => codesIn((act.code ?? '').toLowerCase()))];
    });
}
