// Cards, jobs and forms as lines of plain text for a terminal.
import type { Action, Block, Card, Field } from '../../desk/card.ts';
import type { BenchJob } from './bench-view.ts';
import { countWords, LEVEL_WORD, raisedOn } from './draw/level.ts';

/** Text that cannot steer the terminal: control characters become visible, direction marks a replacement sign. */
export function harmless(text: string): string {
  return text
    .replace(/\r\n?/g, '\n')
    .replace(/[\u0000-\u0008\u000b-\u001f]/g, (sign) =>
      String.fromCharCode(0x2400 + sign.charCodeAt(0)),
    )
    .replace(/[\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]|\p{Cs}/gu, '\ufffd');
}

/** The three levels by word and by shape: a bar, a notch, a dot. */
const SHAPE = { stop: '|||', caution: ' > ', advice: ' . ' } as const;

/** A card with its text, and the lines that tell which number taps which action. */
export function cardLines(card: Card, numbers: readonly (readonly [number, Action])[]): string[] {
  const lines = harmless(card.text).split('\n');
  const level = card.level;
  const head = level === undefined ? [] : [`${SHAPE[level]} ${LEVEL_WORD[level].toUpperCase()}`];
  const edge = level === undefined ? '' : `${SHAPE[level]} `;
  const care = card.blocks.filter(isCaution).filter(({ text }) => !card.text.includes(text));
  return [
    ...head,
    ...lines.map((line) => `${edge}${line}`),
    ...care.map(({ text }) => `${edge}Take care. ${harmless(text)}`),
    ...(card.tells === undefined || card.tells.length === 0
      ? []
      : [`${edge}For ${card.tells.map(harmless).join(', ')}`]),
    ...numbers.map(([number, { label }]) => `  /${number} ${harmless(label)}`),
  ];
}

const isCaution = (block: Block): block is Extract<Block, { kind: 'caution' }> =>
  block.kind === 'caution';

/** One job in a list, the vehicle's state in words. */
export function jobLines(job: BenchJob): string[] {
  const flag = raisedOn([job])[0]?.flag;
  return [
    `Job ${job.job}, ${job.vehicle}: ${job.progress.done} of ${job.progress.total} steps done`,
    ...(flag === undefined
      ? []
      : [
          `  ${SHAPE[flag.level]} ${LEVEL_WORD[flag.level].toUpperCase()} ${flag.says}`,
          ...(job.flags.length > 1 ? [`      in all: ${countWords(job.flags)}`] : []),
        ]),
    ...job.vehicleState.map((state) => `  /// ${state}`),
    ...job.waits.map((wait) => `  Waits: ${wait}`),
  ].map(harmless);
}

/** What is asked for one field of a form. */
export function fieldLines(field: Field): string[] {
  const unit = field.unit === undefined ? '' : `, in ${field.unit}`;
  const skip =
    field.value !== undefined && field.value !== ''
      ? ` [${field.value}]`
      : field.required
        ? ''
        : ' (empty line: none)';
  const how =
    field.kind === 'date-time'
      ? ', as 2025-03-04 16:00'
      : field.kind === 'choices'
        ? ', numbers with commas'
        : '';
  return [
    `${field.label}${unit}${how}${skip}`,
    ...(field.hint === undefined ? [] : [`  ${field.hint}`]),
    ...(field.choices ?? []).map(({ label }, at) => `  ${at + 1} ${label}`),
  ].map(harmless);
}
