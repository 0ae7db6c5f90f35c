// The regular forms of English verbs.

const VOWELS = 'aeiou';

function doubles(base: string): boolean {
  const [c = '', b = '', a = ''] = [base.at(-1), base.at(-2), base.at(-3)];
  const short =
    (base.length <= 4 && base !== 'open') ||
    base === 'unplug' ||
    base === 'unclip' ||
    base === 'refit';
  return (
    short && !VOWELS.includes(c) && !'wxyh'.includes(c) && VOWELS.includes(b) && !VOWELS.includes(a)
  );
}

/** Past (also participle), -ing and third person of a regular verb, with the careless spellings of phones. */
export function forms(base: string): { past: string[]; ing: string[]; third: string[] } {
  const last = base.at(-1) ?? '';
  const y = last === 'y' && !VOWELS.includes(base.at(-2) ?? '');
  const stem = last === 'e' ? base.slice(0, -1) : y ? base.slice(0, -1) : base;
  const past = last === 'e' ? [`${base}d`] : y ? [`${stem}ied`] : [`${base}ed`];
  const ing = last === 'e' && !base.endsWith('ee') ? [`${stem}ing`] : [`${base}ing`];
  const third = /(s|x|z|ch|sh)$/.test(base) ? [`${base}es`] : y ? [`${stem}ies`] : [`${base}s`];
  if (doubles(base)) {
    past.splice(0, 1, `${base}${last}ed`);
    ing.splice(0, 1, `${base}${last}ing`);
  }
  for (const form of [...ing]) ing.push(form.slice(0, -1));
  return { past, ing: ing.filter((form) => form.length > 4), third };
}
