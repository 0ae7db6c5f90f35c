// "Pressure test it to 1.2": an order among colleagues, which reports nothing.
import type { Lexicon } from './lexicon.ts';

const BASE =
  /(?:^|[,;.] *|\b(?:said|says|told (?:me|us)) (?:to )?)((?:[a-z-]+ ){0,2}?)([a-z-]+) (?:it|them|her|him)\b/i;

/** "Pressure test it to 1.2": a verb in its bare form with its object behind it, and nothing before it. */
export function isOrder(text: string, lexicon: Lexicon): boolean {
  const found = BASE.exec(text);
  if (!found?.[2]) return false;
  const verb = found[2].toLowerCase();
  const before = (found[1] ?? '').trim().toLowerCase();
  const look = (word: string) =>
    lexicon.tongues
      .map((tongue) => tongue.vocabulary.look(word, false))
      .find((one) => one.parts.some((part) => part.entry.forms.length > 0));
  const forms = look(verb)?.parts[0]?.entry.forms ?? [];
  if (!forms.includes('base') || forms.includes('past')) return false;
  // Before it only what belongs to the verb: "pressure test", "road test".
  const joined = `${before} ${verb}`.trim();
  return (
    before === '' ||
    /^(?:please|just|now|now just|so|ok)$/.test(before) ||
    lexicon.plan.steps.some((step) => step.title.toLowerCase().startsWith(joined))
  );
}
