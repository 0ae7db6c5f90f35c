// The regular forms of German verbs, and the form by which nouns are compared.

const UNSTRESSED = /^(be|ge|ent|er|ver|zer|über|unter|hinter|miss)/;

/** Stems that are words of their own: an empty tank is "leer", nobody is told to empty it. */
const OWN_WORDS = new Set('leer locker fett öl start test sicher kühl wechsel'.split(' '));

/** Participle and past, forms of the present, and the bare stem of a verb without a separable prefix. */
export function forms(base: string): { past: string[]; ing: string[]; third: string[] } {
  const stem = base.replace(/(?<=[rl])n$|en$|n$/, '');
  const soft = /([dt]|[^aeiouäöüyrlh][mn])$/.test(stem) ? 'e' : '';
  const ge = UNSTRESSED.test(base) || base.endsWith('ieren') ? '' : 'ge';
  return {
    past: [`${ge}${stem}${soft}t`, `${stem}${soft}te`, `${stem}${soft}ten`],
    ing: [`${stem}e`, `${stem}${soft}t`],
    third: OWN_WORDS.has(stem) ? [] : [stem],
  };
}

const ENDINGS = /(?:en|es|em|e|n|s)$/;

/** Umlauts folded, whether written ü, ue or u; endings of number and case taken off: "Räder", "Rades", "Rad". */
export function root(word: string): string {
  if (word.length < 4) return word;
  const changed = /[äöü]|ae|oe|(?<![aeq])ue/.test(word);
  const plain = word
    .replace(/ä|ae/g, 'a')
    .replace(/ö|oe/g, 'o')
    .replace(/ü|(?<![aeq])ue/g, 'u')
    .replaceAll('ß', 'ss');
  if (changed && plain.length > 4 && /[bcdfghklmnpqrstvwxz]er$/.test(plain))
    return /^(rad|blech|loch|schloss|rohr|fass|band|blatt)er$/.test(plain)
      ? plain.slice(0, -2)
      : plain;
  if (plain.length < 5) return plain.replace(/(?<=..[bcdfghklmnpqrtvwxz])e$/, '');
  return plain.endsWith('ss') || plain.endsWith('us') ? plain : plain.replace(ENDINGS, '');
}
