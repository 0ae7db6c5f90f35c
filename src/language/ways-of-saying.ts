// "Fired it up", "drove it over the pit": how people say that an engine ran, a vehicle moved, a pedal was pressed.
import type { Act } from '../../shared/reading.ts';
import { hasCue } from './clause.ts';
import type { ReadContext, ReadResult } from './context.ts';
import type { Lexicon } from './lexicon.ts';
import { prepare } from './message.ts';

type Way = {
  readonly words: RegExp;
  readonly unless?: RegExp;
  /** The titles it may stand for, the likeliest first. */
  readonly titles: readonly RegExp[];
};

const START = /^start the engine\b/i;
const CRANK = /^(?:turn|crank|spin) the engine\b/i;

const WAYS: readonly Way[] = [
  { words: /\b(?:fired|started) (?:it|her|him|the engine|the old girl) up\b/i, titles: [START] },
  {
    words:
      /\b(?:spun|turned|cranked) (?:it|her|him|the engine|the motor) (?:over )?(?:on|with) the (?:key|starter)\b|\b(?:cranked|spun) (?:it|her|him|the engine) over\b/i,
    unless: /\bby hand\b|\bbar(?:ring|red)?\b|\bwith a\b/i,
    titles: [CRANK],
  },
  {
    words:
      /\b(?:drove|reversed|shunted) (?:it|her|him|the (?:bus|truck|coach|lorry)) (?:over|across|outside|forwards?|back over)\b/i,
    titles: [/^move the (?:bus|truck|coach|lorry|vehicle|wheels)\b/i, /^move the\b/i],
  },
  {
    words:
      /\b(?:pumped|pushed|pressed|tapped|dabbed|touched|stamped on|trod on|stood on) the (?:brake )?pedal\b|\bfoot on the (?:brake )?pedal\b/i,
    titles: [/^press the brake pedal\b/i],
  },
];

const AGAINST = [
  'not',
  'not-yet',
  'no',
  'future',
  'later',
  'condition',
  'doubt',
  'wish',
  'must',
  'question-word',
  'question-start',
  'question-tag',
  'wait-for',
  'cannot',
  'needs',
  'nearly',
  'other-vehicle',
] as const;

/** Adds the act that a way of saying stands for, where the words were read as nothing or as something found. */
export function withWaysOfSaying(
  read: ReadResult,
  text: string,
  lexicon: Lexicon,
  context: ReadContext,
): ReadResult {
  if (read.answers !== undefined || text.length > 200 || /["“”„«»?>]/.test(text)) return read;
  for (const way of WAYS) {
    const found = way.words.exec(text);
    if (!found || way.unless?.test(text)) continue;
    const items = [...(lexicon.plan.watched ?? []), ...lexicon.plan.steps];
    const item = way.titles
      .map((title) => items.find((one) => title.test(one.title)))
      .find((one) => one !== undefined);
    if (!item) continue;
    const span: Act['span'] = [found.index, found.index + found[0].length];
    const touches = (act: Act) => act.span[0] < span[1] && act.span[1] > span[0];
    if (read.acts.some((act) => touches(act) && act.kind !== 'finding')) continue;
    const at = (token: { from: number } | undefined) => token?.from ?? 0;
    const message = prepare(text, lexicon, context);
    const clause = message.clauses.find((one) => {
      const to = message.tokens[(one.pieces.at(-1)?.to ?? 1) - 1]?.to ?? 0;
      return at(message.tokens[one.pieces[0]?.from ?? 0]) <= span[0] && to > span[0];
    });
    if (!clause || clause.question || AGAINST.some((name) => hasCue(clause, name))) continue;
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
