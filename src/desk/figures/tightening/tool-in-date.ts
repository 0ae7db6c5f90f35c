// "is TW-03 in date": whether a torque tool may be used today.
import { toolState } from '../../../trade/tightening/torque-tool.ts';
import type { Asked } from '../asking/asked.ts';
import { asks, figureKind, type Ground, means, type Read, stopped } from '../figure-kind.ts';
import { marksIn, toolIn } from './registered-tool.ts';

export type ToolDateInputs = {
  readonly name: string;
  readonly calibratedOn?: string;
  readonly lastDay?: string;
  readonly cycles?: number;
};

const ABOUT_DATES =
  /(?:\b(?:in|out of) (?:date|cal)\b|calibrat|\bcal\b|\bdue\b|\bexpire|\bvalid\b|\b(?:ok|good|safe) to use\b|\bcan (?:i|we) (?:still )?use\b|gültig|geprüft|prüfung|kalibrier|fällig)/;
const TOOL = /\b(?:wrench|tool|gauge|torque wrench|drehmomentschlüssel|schlüssel|messuhr)\b/;

export const toolInDate = figureKind<ToolDateInputs>({
  kind: 'tool-in-date',
  means: 'whether a torque tool is in date',
  examples: [
    {
      type: 'is TW-03 in date',
      means: { name: 'TW-03', calibratedOn: '2025-11-03', lastDay: '2035-11-02' },
    },
    {
      type: 'when is tw8 due',
      means: { name: 'TW-08', calibratedOn: '2025-01-20', lastDay: '2026-01-19' },
    },
    {
      type: 'wrench calibrated 2025-09-01, 5200 pulls, still in date?',
      means: { name: 'The tool', calibratedOn: '2025-09-01', cycles: 5200 },
    },
  ],
  read,
  answer: ({ name, ...tool }, { today }) => {
    const state = toolState(tool, today.slice(0, 10));
    return state.ok ? { says: `${name}: ${lower(state.value.answer)}` } : stopped(state.problem);
  },
});

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

function read(asked: Asked, ground: Ground): Read<ToolDateInputs> {
  if (!asked.question || !ABOUT_DATES.test(asked.plain)) return undefined;
  const tool = toolIn(asked, ground.tools);
  if (tool) {
    if (tool.calibrated === undefined && tool.due === undefined) {
      return asks(`The register has no date for ${tool.id}. Look at its certificate.`);
    }
    return means({
      name: tool.id,
      ...(tool.calibrated === undefined ? {} : { calibratedOn: tool.calibrated }),
      ...(tool.due === undefined ? {} : { lastDay: tool.due }),
    });
  }
  const date = /\b(\d{4}-\d{2}-\d{2})\b/.exec(asked.plain)?.[1];
  if (date !== undefined && TOOL.test(asked.plain)) {
    const pulls = /\b(\d{1,7})\s*(?:pulls|cycles|clicks)\b/.exec(asked.plain)?.[1];
    return means({
      name: 'The tool',
      calibratedOn: date,
      ...(pulls === undefined ? {} : { cycles: Number(pulls) }),
    });
  }
  const mark = marksIn(asked).find((each) => /^(?:tw|dg|tool|ts|mw)/.test(each));
  if (mark === undefined && !TOOL.test(asked.plain)) return undefined;
  const known = (ground.tools ?? []).map(({ id }) => id);
  if (mark === undefined) {
    return asks(
      `Which tool? Give its mark${known.length > 0 ? `, such as ${known[0]}` : ''}.`,
      known.slice(0, 3).map((id) => ({ label: id, text: `is ${id} in date` })),
    );
  }
  return asks(
    known.length > 0
      ? `${mark.toUpperCase()} is not in the register of tools. It has ${known.join(', ')}.`
      : `There is no register of tools here, so nothing is known of ${mark.toUpperCase()}. Look at its certificate.`,
  );
}
