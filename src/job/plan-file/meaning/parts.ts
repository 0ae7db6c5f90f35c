// Parts and codes: what comes off goes back on in the same number, and what is entered was read.
import { codeForm } from '../../../trade/code-form.ts';
import type { DraftAsk } from '../draft.ts';
import { inWords, type Path, short } from '../place.ts';
import type { MeaningRule, PlacedStep, Say, Survey } from '../survey.ts';

export const parts: MeaningRule = (survey, say) => {
  counts(survey, say);
  codes(survey, say);
};

type Counted = {
  readonly at: Path;
  readonly step: PlacedStep;
  readonly do: 'off' | 'on';
  /** Over all positions; NaN where the count itself is missing. */
  readonly count: number;
};
type CodeAsk = Extract<DraftAsk, { kind?: 'code' | undefined }>;

function counts(survey: Survey, say: Say): void {
  const byPart = new Map<string, Counted[]>();
  for (const step of survey.steps) {
    for (const { at, it } of step.asks) {
      if ((it.kind !== 'off' && it.kind !== 'on') || it.part === undefined) continue;
      const part = it.part.trim().toLowerCase();
      const all = byPart.get(part) ?? [];
      // A count of a step that is done at each position counts once for each of them.
      const times = step.it.each ? (survey.plan.positions?.[step.it.each]?.names?.length ?? 1) : 1;
      all.push({ at, step, do: it.kind, count: (it.count ?? Number.NaN) * times });
      byPart.set(part, all);
    }
  }
  for (const [part, all] of byPart) balance(part, all, say);
}

function balance(part: string, all: readonly Counted[], say: Say): void {
  const off = all.filter((one) => one.do === 'off');
  const on = all.filter((one) => one.do === 'on');
  const [first] = all;
  if (!first) return;
  if (off.length === 0 || on.length === 0) {
    const missing = off.length === 0 ? 'off' : 'on';
    say(first.at, {
      what: `"${short(part)}" is counted ${first.do} in ${first.step.says} and nowhere ${missing}.`,
      expected: 'The same words for the part where it comes off and where it goes back on.',
      mend:
        missing === 'off'
          ? 'Add {kind: off} with this part to the step that takes it off, or spell the two alike.'
          : 'Add {kind: on} with this part to the step that fits it, or spell the two alike. Parts that stay off are no count.',
    });
    return;
  }
  const sum = (list: readonly Counted[]) => list.reduce((total, one) => total + one.count, 0);
  if (sum(off) === sum(on) || Number.isNaN(sum(all))) return;
  // With options a job may have either set of steps, which the plan alone cannot add up.
  const optional = all.some((one) => one.step.it.option !== undefined);
  say(
    [...(on[0]?.at ?? first.at), 'count'],
    {
      what: `${sum(off)} "${short(part)}" come off and ${sum(on)} go back on, over all positions.`,
      expected: 'As many on as off.',
      mend: `Correct the count in ${[...new Set(all.map((one) => one.step.says))].join(' or ')}.`,
    },
    optional ? 'warning' : 'error',
  );
}

function codes(survey: Survey, say: Say): void {
  const read = new Map<string, CodeAsk>();
  const entered: { at: Path; step: PlacedStep; ask: CodeAsk }[] = [];
  for (const step of survey.steps) {
    for (const { at, it } of step.asks) {
      if (it.kind !== 'code') continue;
      formOf(it, at, step, say);
      if (it.of === undefined) continue;
      if (it.do === 'read' && !read.has(it.of)) read.set(it.of, it);
      if (it.do === 'enter') entered.push({ at, step, ask: it });
    }
  }
  for (const { at, step, ask } of entered) {
    const label = read.get(ask.of ?? '');
    if (!label) {
      say(at, {
        what: `S${step.says.slice(1)} enters "${ask.of}", which no step reads from the label.`,
        expected: 'A report {kind: code, do: read} with the same name: the two are compared.',
        mend: 'Add it to the step in which the part is in the hand, or spell the two alike.',
      });
    } else if (label.form !== ask.form) {
      say([...at, 'form'], {
        what: `The code "${ask.of}" is entered as ${inWords(ask.form)} and read as ${inWords(label.form)}.`,
        expected: 'One form for the same code.',
        mend: 'Copy the form of the label.',
      });
    }
  }
}

function formOf(ask: CodeAsk, at: Path, step: PlacedStep, say: Say): void {
  if (ask.form === undefined) return;
  const read = codeForm({
    pattern: ask.form,
    ...(ask.alphabet === undefined ? {} : { alphabet: ask.alphabet }),
    ...(ask.check === undefined ? {} : { check: ask.check }),
  });
  if (read.ok) return;
  say([...at, 'form'], {
    what: `The code form in ${step.says}: ${short(read.problem.what)}`,
    expected: "A letter, 9 digit, X letter or digit, H hexadecimal, 'quoted' as it stands.",
    mend: read.problem.doThis,
  });
}
