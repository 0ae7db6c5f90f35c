// A plan read back in plain sentences, so that its writer can see what was understood.
import type { Ask, Stage, Step } from '../../shared/plan.ts';
import { isUnit, symbolOf } from '../trade/units.ts';
import type { Plan } from './plan.ts';

/**
 * The plan in plain sentences: one line for the whole, one for each step in the order of the file, one for each
 * watched act, and the notice.
 */
export function readBack(plan: Plan): readonly string[] {
  return [
    head(plan),
    ...plan.steps.map((step) => stepSentences(plan, step)),
    ...watched(plan),
    plan.notice,
  ];
}

const list = (items: readonly string[]): string =>
  items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
const counted = (count: number, thing: string): string =>
  `${count} ${thing}${count === 1 ? '' : 's'}`;
const end = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`);

function head(plan: Plan): string {
  const positions = Object.entries(plan.positions ?? {}).map(
    ([set, { names }]) => `${set}: ${names.join(', ')}`,
  );
  const options = Object.entries(plan.options ?? {}).map(([name, says]) => `${name} (${says})`);
  return [
    end(`${plan.title}: ${plan.machine}`),
    `${counted(plan.steps.length, 'step')}.`,
    positions.length > 0 ? `Positions: ${positions.join('; ')}.` : '',
    options.length > 0 ? `Options: ${options.join('; ')}.` : '',
  ]
    .filter((part) => part !== '')
    .join(' ');
}

function stepSentences(plan: Plan, step: Step): string {
  const title = (id: string) => plan.stepById.get(id)?.title ?? id;
  const state = (id: string) => plan.states?.[id]?.title ?? id;
  const titles = (ids: readonly string[] | undefined) => list((ids ?? []).map(title));
  const states = (ids: readonly string[] | undefined) => list((ids ?? []).map(state));
  const sentences: readonly (readonly [string, string])[] = [
    [
      'Only with option',
      step.option === undefined ? '' : (plan.options?.[step.option] ?? step.option),
    ],
    ['Once for each', step.each === undefined ? '' : `position of ${step.each}`],
    ['After', titles(step.after)],
    ...(step.waits ?? []).map((wait): [string, string] => [
      'Waits',
      `at least ${wait.minutes} min after ${title(wait.after)}, because ${wait.because}${from(plan, step, wait.source)}`,
    ]),
    ['Due', due(plan, step, title)],
    ['Report', (step.report ?? []).map((ask) => askInWords(plan, step, ask)).join('; ')],
    [
      'New parts',
      list((step.renew ?? []).map(({ part, count }) => (count ? `${count} ${part}` : part))),
    ],
    ['Paint-mark', step['paint-mark'] ? 'the fasteners when they are finally tight' : ''],
    ['Checks', step.check ? `${titles(step.check)}, by somebody who did none of it` : ''],
    [
      'Hold point',
      step.hold
        ? `nobody goes past until a ${list(step.hold.release).replace(' and ', ' or ')} releases it`
        : '',
    ],
    ['Opens', states(step.opens)],
    ['Closes', states(step.closes)],
    ['Not while', states(step['not-while'])],
    ['Done again, it undoes', titles(step.undoes)],
    ['Needs competence', list(step.competence ?? []).replace(' and ', ' or ')],
    ['Takes', time(step)],
    ['Why', step.why ?? ''],
    ['Caution', step.caution ?? ''],
  ];
  const said = sentences
    .filter(([, text]) => text !== '')
    .map(([name, text]) => end(`${name}: ${text}`));
  return [`${step.title} (${step.weight ?? 'routine'}).`, ...said].join(' ');
}

const from = (plan: Plan, step: Step, own: string | undefined): string => {
  const source = own ?? step.source ?? plan.source;
  return source === undefined ? '' : ` [${source}]`;
};

function due(plan: Plan, step: Step, title: (id: string) => string): string {
  const { within } = step;
  if (!within) return '';
  const limits = [
    within.minutes === undefined ? '' : `${within.minutes} min`,
    within.km === undefined ? '' : `${within.km.min} to ${within.km.max} km`,
  ].filter((limit) => limit !== '');
  return `within ${limits.join(' or ')} after ${title(within.after)}, because ${within.because}${from(plan, step, within.source)}`;
}

function time(step: Step): string {
  if (!step.time) return '';
  const { best, likely, worst, 'hands-off': off } = step.time;
  const each = step.each === undefined ? '' : ' for each position';
  return `${likely} min (${best} to ${worst})${each}${off ? `, and ${off} min more hands off` : ''}`;
}

const symbol = (unit: string): string => {
  const text = isUnit(unit) ? symbolOf(unit) : unit;
  return text === '' ? '' : ` ${text}`;
};

function range(min: number | undefined, max: number | undefined, unit: string): string {
  if (min !== undefined && max !== undefined) return `, ${min} to ${max}${symbol(unit)}`;
  if (min !== undefined) return `, at least ${min}${symbol(unit)}`;
  return max === undefined ? `, in${symbol(unit)}` : `, at most ${max}${symbol(unit)}`;
}

/** One thing to report, with its limits and where they come from. */
export function askInWords(plan: Plan, step: Step, ask: Ask): string {
  switch (ask.kind) {
    case 'quantity': {
      const source =
        ask.min === undefined && ask.max === undefined ? '' : from(plan, step, ask.source);
      return `${ask.of}${range(ask.min, ask.max, ask.unit)}${source}`;
    }
    case 'drained':
    case 'filled': {
      const source =
        ask.min === undefined && ask.max === undefined ? '' : from(plan, step, ask.source);
      const fluid = plan.fluids?.[ask.fluid]?.title ?? ask.fluid;
      return `volume of ${fluid} ${ask.kind}${range(ask.min, ask.max, ask.unit ?? 'L')}${source}`;
    }
    case 'tightening':
    case 'loosening': {
      const fasteners = ask.fasteners === undefined ? ask.of : `${ask.fasteners} ${ask.of}`;
      const tool =
        ask.tool === undefined ? '' : `, with ${plan.tools?.[ask.tool]?.title ?? ask.tool}`;
      const pattern = ask.pattern === undefined ? '' : `, ${ask.pattern.replaceAll('-', ' ')}`;
      const stages = ask.stages
        .map((stage, n) => `stage ${n + 1}: ${stageInWords(stage)}`)
        .join(', ');
      return `${ask.kind} ${fasteners}${pattern}${tool}, ${stages}${from(plan, step, ask.source)}`;
    }
    case 'off':
      return `${ask.count} ${ask.part} off`;
    case 'on':
      return `${ask.count} ${ask.part} back on`;
    case 'code':
      return `${ask.of.replaceAll('-', ' ')} ${ask.do === 'read' ? 'read from the label' : 'entered in the control unit'}, form ${ask.form}`;
    case 'clearance': {
      const valves = ask.valves.map((v) => `${v.valve} ${v.target} (${v.min} to ${v.max})`);
      return `clearance in ${ask.unit ?? 'mm'}: ${valves.join(', ')}${from(plan, step, ask.source)}`;
    }
    case 'trouble-codes':
      return {
        before: 'trouble codes before the work',
        cleared: 'trouble codes cleared',
        'none-active': 'no trouble code active',
      }[ask.ask];
    case 'photo':
      return `a photo of ${ask.of}`;
    case 'remark':
      return `a remark on ${ask.of}`;
  }
}

/** A stage: torque with tolerance, then angle. The tolerances are those of the plan, 5 % and 5° where it has none. */
export function stageInWords(stage: Stage): string {
  const parts: string[] = [];
  if (stage.torque !== undefined) {
    parts.push(`${stage.torque}${symbol(stage.unit ?? 'N.m')} ± ${stage.tolerance ?? 5} %`);
  }
  if (stage.angle !== undefined) parts.push(`${stage.angle}° ± ${stage['tolerance-angle'] ?? 5}°`);
  return parts.join(' and then ');
}

function watched(plan: Plan): readonly string[] {
  const states = (ids: readonly string[] | undefined) =>
    list((ids ?? []).map((id) => plan.states?.[id]?.title ?? id));
  return (plan.watched ?? []).map((act) => {
    const parts: readonly (readonly [string, string])[] = [
      ['Opens', states(act.opens)],
      ['Closes', states(act.closes)],
      ['Not while', states(act['not-while'])],
    ];
    const said = parts
      .filter(([, text]) => text !== '')
      .map(([name, text]) => ` ${name}: ${text}.`);
    return `Watched, outside the order: ${end(act.title)}${said.join('')}`;
  });
}
