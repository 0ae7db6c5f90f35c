// "300 nm with 100 mm extension on a 400 arm, 45 degrees": what to set on the wrench.

import { type WrenchQuestion, wrenchSetting } from '../../../trade/tightening/wrench-setting.ts';
import { isUnit, type Quantity, type Unit } from '../../../trade/units.ts';
import {
  type Asked,
  aroundSaid,
  kindOfSaid,
  quantityOf,
  type Said,
  saidOf,
} from '../asking/asked.ts';
import { answerOf, asks, figureKind, type Ground, means, type Read } from '../figure-kind.ts';
import { fromPlan, isLabel } from '../plan-figure.ts';
import { type PlanStage, planStage } from './plan-stage.ts';
import { toolIn } from './registered-tool.ts';

export type ExtensionInputs = {
  readonly question: WrenchQuestion;
  readonly stage?: PlanStage;
};

const EXTENSION =
  "(?:extensions?|ext|crow'?s?[ -]?(?:foot|feet)|crowfoot|adapt[eo]r|offset|verlängerung)";
const ARM = '(?:arm|lever|wrench|torque wrench|tw|hebel|schlüssel|drehmomentschlüssel)';
const IS = '(?:\\s*(?:of|is|=|:|a|the|von|length|long|ist))*\\s*$';
const HAS_EXTENSION = new RegExp(`\\b${EXTENSION}\\b`);
const behind = (word: string) => new RegExp(`^\\s*(?:long\\s+|langer?\\s+)?${word}\\b`);
const ahead = (word: string) => new RegExp(`\\b${word}${IS}`);

export const wrenchWithExtension = figureKind<ExtensionInputs>({
  kind: 'wrench-setting',
  means: 'what to set on a wrench with an extension or crowfoot',
  examples: [
    {
      type: '300 nm with 100 mm extension on a 400 arm, 45 degrees',
      means: {
        question: {
          torque: { value: 300, unit: 'N.m' },
          arm: { value: 400, unit: 'mm' },
          extension: { value: 100, unit: 'mm' },
          angle: { value: 45, unit: 'deg' },
        },
      },
    },
    {
      type: 'what do i set for 300 in lb, 10 in arm, 4 in crowfoot',
      means: {
        question: {
          torque: { value: 300, unit: 'lbf.in' },
          arm: { value: 10, unit: 'in' },
          extension: { value: 4, unit: 'in' },
        },
      },
    },
    {
      type: 'what to set for clamp stage 2 with a 60 mm crowfoot square on a 300 mm arm',
      plan: 'injectors-six-cylinder',
      means: {
        question: {
          torque: { value: 45, unit: 'N.m' },
          arm: { value: 300, unit: 'mm' },
          extension: { value: 60, unit: 'mm' },
          angle: { value: 90, unit: 'deg' },
        },
        stage: { step: 'tighten-clamp', of: 'clamp bolt', stage: 2 },
      },
    },
  ],
  read,
  answer: ({ question, stage }, { view }) => {
    const placed = view && stage && planStage.placed(view, stage);
    if (!view || !placed) return answerOf(wrenchSetting(question));
    const result = wrenchSetting({ ...question, source: planStage.source(view, placed) });
    return result.ok ? fromPlan(view, placed, answerOf(result)) : answerOf(result);
  },
});

function read(asked: Asked, ground: Ground): Read<ExtensionInputs> {
  const { plain } = asked;
  if (!HAS_EXTENSION.test(plain) || (asked.reports && !asked.question)) return undefined;
  const roles = rolesIn(asked);
  const torque = saidOf(asked, 'torque')[0];
  const stage = torque ? undefined : planStage.named(asked, ground.view, 'torque');
  if (!torque && !stage) {
    const wrong = asked.figures.find((said) => kindOfSaid(said) === 'volume');
    if (wrong && roles.extension && roles.arm) {
      return asks(
        `${plain.slice(wrong.from, wrong.to)} is a volume, not a torque. Give the torque at the bolt, such as 300 nm.`,
      );
    }
    return undefined;
  }
  if (stage && 'reply' in stage) return roles.extension ? stage : undefined;
  if (!asked.question && !(roles.extension && roles.arm)) return undefined;
  if (!roles.extension) {
    return asks(
      'How long is the extension, from the middle of the square drive to the middle of the bolt? Ask again with both lengths: "300 nm, 400 mm arm, 100 mm extension".',
    );
  }
  if (!roles.arm) {
    return asks(
      'How long is the arm of the wrench, from the middle of the square drive to the mark on the grip? Ask again with both lengths: "300 nm, 400 mm arm, 100 mm extension".',
    );
  }
  const wanted: Quantity = torque
    ? quantityOf(torque, 'N.m')
    : { value: stage?.torque ?? Number.NaN, unit: stage?.unit ?? 'N.m' };
  const inches = wanted.unit === 'lbf.in' || wanted.unit === 'lbf.ft';
  const length: Unit = roles.arm.unit ?? roles.extension.unit ?? (inches ? 'in' : 'mm');
  const spare = asked.figures.find(
    (said) =>
      said.unit === undefined &&
      said !== roles.arm &&
      said !== roles.extension &&
      !isLabel(asked, said.from) &&
      !isToolMark(asked, said),
  );
  const turned = spare && AT_ANGLE.test(aroundSaid(asked, spare).before);
  if (spare && !turned) {
    return asks(
      `What is the ${spare.value}? Ask again with a unit behind each figure: "300 nm, 400 mm arm, 100 mm extension, 45 degrees".`,
    );
  }
  const angle = turned ? quantityOf(spare, 'deg') : angleIn(asked);
  const range = toolIn(asked, ground.tools)?.range;
  const unit = range && isUnit(range.unit) ? range.unit : undefined;
  return means({
    question: {
      torque: wanted,
      arm: quantityOf(roles.arm, length),
      extension: quantityOf(roles.extension, length),
      ...(angle ? { angle } : {}),
      ...(range && unit
        ? { wrench: { least: { value: range.min, unit }, most: { value: range.max, unit } } }
        : {}),
    },
    ...(stage ? { stage: { step: stage.step, of: stage.of, stage: stage.stage } } : {}),
  });
}

const AT_ANGLE = /\b(?:at|angled?|angle of|winkel|unter)\s*(?:at|an angle of|of)?\s*$/;

/** Whether a figure is the number in a tool's mark: "tw 3". */
const isToolMark = (asked: Asked, said: Said): boolean =>
  /\b(?:tw|tool)\s$/.test(asked.plain.slice(0, said.from));

type Roles = { readonly arm?: Said; readonly extension?: Said };

/**
 * Which length is the arm and which the extension. The words stand before both ("arm 400 extension 100"), or behind
 * both ("400 arm 100 extension"), or one so and one so ("75 mm crowfoot, wrench is 400").
 */
function rolesIn(asked: Asked): Roles {
  const lengths = asked.figures.filter(
    (said) => kindOfSaid(said) === 'length' || said.unit === undefined,
  );
  const find = (pattern: RegExp, side: 'before' | 'after', not?: Said) =>
    lengths.find((said) => said !== not && pattern.test(aroundSaid(asked, said)[side]));
  const before = { arm: find(ahead(ARM), 'before'), extension: find(ahead(EXTENSION), 'before') };
  if (before.arm && before.extension) return before as Roles;
  const after = { arm: find(behind(ARM), 'after'), extension: find(behind(EXTENSION), 'after') };
  if (after.arm && after.extension) return after as Roles;
  const extension = after.extension ?? before.extension;
  const arm =
    [after.arm, before.arm].find((said) => said !== undefined && said !== extension) ??
    find(ahead('length'), 'before', extension);
  return { ...(arm ? { arm } : {}), ...(extension ? { extension } : {}) };
}

function angleIn(asked: Asked): Quantity | undefined {
  const said = saidOf(asked, 'angle')[0];
  if (said) return quantityOf(said, 'deg');
  if (/\b(?:square|at right angles?|rechtwinklig|quer)\b(?!\s+drive)/.test(asked.plain)) {
    return { value: 90, unit: 'deg' };
  }
  return undefined;
}
