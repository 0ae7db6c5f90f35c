// A replayed conversation as people would see it in the channel, in plain text.
import type { ReplayResult } from '../../shared/replay.ts';
import type { Card, Post } from '../desk/card.ts';
import type { ReplayMoment } from '../desk/replay.ts';

const clock = (iso: string): string => iso.slice(11, 16);

const indented = (text: string, margin: string): string =>
  text
    .split('\n')
    .map((line) => `${margin}${line}`)
    .join('\n');

/** The card as a terminal shows it: its title, its text, what can be tapped. */
export const cardLines = (card: Card): string => {
  const head = card.title && !card.text.startsWith(card.title) ? `${card.title}\n` : '';
  const taps = (card.actions ?? []).map((action) => `[${action.label}]`).join(' ');
  return `${head}${card.text}${taps ? `\n${taps}` : ''}`;
};

const shown = (posts: readonly Post[]): readonly string[] =>
  posts.flatMap((post) => {
    if (!post.card || post.key === 'sheet') return [];
    const to = post.to.where === 'channel' ? 'To the channel' : 'Chargehand';
    return [indented(`${to}: ${cardLines(post.card)}`, '        ')];
  });

const sign = (posts: readonly Post[]): string => {
  const mark = posts.find((post) => post.sign)?.sign?.mark;
  return mark === 'recorded' ? '   (noted)' : mark === 'asked' ? '   (asked)' : '';
};

/** One moment: the message with its sign, then what was posted. */
export const momentLines = (moment: ReplayMoment, job?: string): readonly string[] => {
  const lines: string[] = [];
  const { line } = moment;
  if (line) {
    const what =
      line.deletes !== undefined
        ? `(deleted ${line.deletes})`
        : line.edits !== undefined
          ? `(edited ${line.edits}) ${line.text ?? ''}`
          : (line.text ?? '');
    lines.push(
      `${clock(moment.at)}${job ? ` ${job}` : ''} ${line.by}: ${what.replaceAll('\n', ' / ')}${sign(moment.posts)}`,
    );
  }
  lines.push(...shown(moment.posts));
  return lines;
};

export const flagLines = (result: ReplayResult): readonly string[] =>
  result.flags.map(
    (flag) => `  ${flag.level}${flag.clearedBy ? ` (${flag.how ?? 'cleared'})` : ''}: ${flag.says}`,
  );

export const showConversation = (
  moments: readonly ReplayMoment[],
  result: ReplayResult,
): string => {
  const { totals } = result;
  const flags = flagLines(result);
  return [
    ...moments.flatMap((moment) => momentLines(moment)),
    '',
    'Flags',
    ...(flags.length > 0 ? flags : ['  none']),
    '',
    `${totals.stepsDone} of ${totals.stepsTotal} steps done. Vehicle now: ${result.vehicleState.join(', ') || 'nothing open, as far as reported'}. Job ${result.closed ? 'closed' : 'open'}.`,
    '',
  ].join('\n');
};
