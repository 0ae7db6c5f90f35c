// "Fired it up", "drove it over the pit": how people say that an engine ran, a vehicle moved, a pedal was pressed.
import type { Act } from '../../shared/reading.ts';
import { signsAgainst, speaksAgainst } from './against.ts';
import type { ReadResult } from './context.ts';
import type { Lexicon } from './lexicon.ts';
import type { Message } from './message.ts';
import { LONGEST, QUOTE } from './plan-lines/lines.ts';
import { WAYS } from './rules/ways/index.ts';

/** "Spun it over on the key": the word for a spun bearing is the way of saying it. */
const AGAINST = signsAgainst('defect');

/** Adds the act that a way of saying stands for, where the words were read as nothing or as something found. */
export function withWaysOfSaying(
  read: ReadResult,
  message: Message,
  lexicon: Lexicon,
  off?: ReadonlySet<string>,
): ReadResult {
  const text = message.raw;
  if (read.answers !== undefined || text.length > LONGEST || QUOTE.test(text)) return read;
  for (const way of WAYS) {
    if (off?.has(way.name)) continue;
    const found = way.words.exec(text);
    if (!found || way.unless?.test(text)) continue;
    const items = [...(lexicon.plan.watched ?? []), ...lexicon.plan.steps];
    const item = way.titles
      .map((title) => items.find((one) => title.test(one.title)))
      .find((one) => one !== undefined);
    if (!item) continue;
    const span: Act['span'] = [found.index, found.index + found[0].length];
    const touches = (act: Act) => act.span[0] < span[1] && act.span[1] > span[0];
    // "Started her up" is its start and not the beginning of one.
    const gives = (act: Act) =>
      act.kind === 'finding' || (act.kind === 'started' && act.step === item.id);
    if (read.acts.some((act) => touches(act) && !gives(act))) continue;
    const at = (token: { from: number } | undefined) => token?.from ?? 0;
    const clause = message.clauses.find((one) => {
      const to = message.tokens[(one.pieces.at(-1)?.to ?? 1) - 1]?.to ?? 0;
      return at(message.tokens[one.pieces[0]?.from ?? 0]) <= span[0] && to > span[0];
    });
    if (!clause || clause.question || speaksAgainst(clause, AGAINST)) continue;
    return {
      ...read,
      acts: [
        ...read.acts.filter((act) => !touches(act)),
        { kind: 'done', step: item.id, positions: [], assumed: [], span },
      ],
      explained: [...read.explained, `"${found[0]}": done, "${item.title}" (a way of saying it).`],
    };
  }
  return read;
}
