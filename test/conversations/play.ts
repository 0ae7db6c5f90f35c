// Plays a conversation on a stage and says, line by line, where it went otherwise than expected.
import type { Plan } from '../../src/job/plan.ts';
import type { Expectation, Script } from './script.ts';
import { type MakeStage, onTheDay, type Seen, settingsOf } from './stage.ts';

/** Seconds given to each line before people look: longer than a skipped step is held back. */
const LOOK_AFTER = 25;

const unmet = (expected: Expectation, seen: Seen): string | undefined => {
  const has = (texts: readonly string[], words: string): boolean =>
    texts.some((text) => text.includes(words));
  switch (expected.kind) {
    case 'noted':
      return seen.sign === 'recorded'
        ? undefined
        : `expected it to be noted, but the sign is ${seen.sign ?? 'missing'}`;
    case 'asked':
      return seen.sign === 'asked' || seen.thread.some((text) => text.includes('?'))
        ? undefined
        : 'expected a question';
    case 'unsigned':
      return seen.sign === undefined ? undefined : `expected no sign, but it was ${seen.sign}`;
    case 'quiet':
      return seen.news === 0 ? undefined : 'expected no words';
    case 'says':
      return has(seen.thread, expected.words)
        ? undefined
        : `expected the thread to say "${expected.words}"`;
    case 'says-not':
      return has([...seen.thread, ...seen.channel], expected.words)
        ? `expected nobody to say "${expected.words}"`
        : undefined;
    case 'channel':
      return has(seen.channel, expected.words)
        ? undefined
        : `expected the channel to say "${expected.words}"`;
    case 'offers':
      return seen.offers.includes(expected.words)
        ? undefined
        : `expected a button "${expected.words}", there are: ${seen.offers.join(', ')}`;
    case 'offers-not':
      return seen.offers.includes(expected.words)
        ? `expected no button "${expected.words}"`
        : undefined;
    case 'vehicle':
      return seen.sheet.includes(expected.words)
        ? undefined
        : `expected the job sheet to say "${expected.words}"`;
    case 'vehicle-not':
      return seen.sheet.includes(expected.words)
        ? `expected the job sheet not to say "${expected.words}"`
        : undefined;
    case 'closed':
    case 'cancelled':
    case 'open':
      return seen.status === expected.kind
        ? undefined
        : `expected the job to be ${expected.kind}, it is ${seen.status}`;
  }
};

/** A line without words expected is expected to be quiet. */
const withQuiet = (expects: readonly Expectation[]): readonly Expectation[] =>
  expects.some(
    ({ kind }) => kind === 'says' || kind === 'channel' || kind === 'asked' || kind === 'quiet',
  )
    ? expects
    : [...expects, { kind: 'quiet' }];

const later = (at: string, seconds: number): string =>
  new Date(Date.parse(at) + seconds * 1000).toISOString();

/** @returns what went otherwise, one sentence each; empty when the conversation went as written */
export const play = async (
  script: Script,
  plan: Plan,
  make: MakeStage,
): Promise<readonly string[]> => {
  const wrong: string[] = [];
  const first = script.lines[0];
  if (!first) return ['The conversation has no line.'];
  const stage = await make(script, plan, settingsOf(script), later(onTheDay(first.time), -60));
  try {
    for (const [index, line] of script.lines.entries()) {
      const at = onTheDay(line.time);
      await stage.until(at);
      if (line.does === 'says') await stage.say(line.by, line.text, at);
      if (line.does === 'taps') await stage.tap(line.by, line.text, line.fields ?? {}, at);
      if (line.does === 'edits') await stage.edit(line.by, line.text, line.to ?? '', at);
      if (line.does === 'deletes') await stage.remove(line.by, line.text, at);
      const next = script.lines[index + 1];
      const look = later(at, LOOK_AFTER);
      await stage.until(
        next && Date.parse(onTheDay(next.time)) < Date.parse(look) ? onTheDay(next.time) : look,
      );
      const seen = await stage.look();
      for (const expected of withQuiet(line.expects)) {
        const problem = unmet(expected, seen);
        if (problem)
          wrong.push(
            `line ${line.row} (${line.time} ${line.by}: ${line.text}): ${problem}. Thread: ${seen.thread.join(' / ') || 'nothing'}. Channel: ${seen.channel.join(' / ') || 'nothing'}.`,
          );
      }
    }
  } finally {
    await stage.end();
  }
  return wrong;
};
