// "Straps look good, release strap gearbox": a remark before the order that lets a hold point go.
import type { Act } from '../../shared/reading.ts';
import { signsAgainst, speaksAgainst } from './against.ts';
import { commandOf } from './command-act.ts';
import type { ReadContext } from './context.ts';
import type { Lexicon } from './lexicon.ts';
import { type Message, prepare } from './message.ts';

const ORDER = /^(.{3,80}?)[,.;]\s+((?:please\s+)?release\s.*)$/i;
const AGAINST = signsAgainst();

/** The release that a message ends with, where nothing in the remark before it holds it back. */
export function releaseWithRemark(
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
): Act | undefined {
  const text = message.raw;
  const found = ORDER.exec(text);
  const order = found?.[2];
  if (!found?.[1] || order === undefined || /["“”„«»?>]/.test(text)) return undefined;
  const remark = prepare(found[1], lexicon, context);
  if (remark.clauses.some((clause) => speaksAgainst(clause, AGAINST))) return undefined;
  const act = commandOf(prepare(order, lexicon, context), lexicon, context);
  if (act?.command !== 'release' || act.step === undefined) return undefined;
  return { ...act, span: [text.length - order.length, text.length] };
}
