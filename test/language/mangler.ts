// Makes of one message the ten a hurried thumb might have sent. Seeded: the same seed gives the same slips.

/** A small generator of numbers between 0 and 1 (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const NEIGHBOURS: Readonly<Record<string, string>> = {
  q: 'wa',
  w: 'qes',
  e: 'wrd',
  r: 'etf',
  t: 'ryg',
  y: 'tuh',
  u: 'yij',
  i: 'uok',
  o: 'ipl',
  p: 'ol',
  a: 'qsz',
  s: 'awdx',
  d: 'sefc',
  f: 'drgv',
  g: 'fthb',
  h: 'gyjn',
  j: 'hukm',
  k: 'jil',
  l: 'kop',
  z: 'asx',
  x: 'zsdc',
  c: 'xdfv',
  v: 'cfgb',
  b: 'vghn',
  n: 'bhjm',
  m: 'njk',
};

type Slip = (text: string, random: () => number) => string;

/** A place in a word of three letters or more; its first letter is hit in one slip of twenty. */
function place(text: string, random: () => number): number | undefined {
  const first = random() < 0.05;
  const places = [...text.matchAll(/\p{L}{3,}/gu)].flatMap((word) =>
    first ? [word.index] : Array.from({ length: word[0].length - 1 }, (_, k) => word.index + 1 + k),
  );
  return places.length === 0 ? undefined : places[Math.floor(random() * places.length)];
}

const at =
  (change: (text: string, i: number, random: () => number) => string): Slip =>
  (text, random) => {
    const i = place(text, random);
    return i === undefined ? text : change(text, i, random);
  };

const SLIPS: readonly Slip[] = [
  at((text, i, random) => {
    const near = NEIGHBOURS[(text[i] ?? '').toLowerCase()];
    return near === undefined
      ? text
      : text.slice(0, i) + near[Math.floor(random() * near.length)] + text.slice(i + 1);
  }),
  at((text, i) => text.slice(0, i) + text.slice(i + 1)),
  at((text, i) => text.slice(0, i) + text[i] + text.slice(i)),
  at((text, i) =>
    /\p{L}/u.test(text[i + 1] ?? '')
      ? text.slice(0, i) + text[i + 1] + text[i] + text.slice(i + 2)
      : text,
  ),
  (text) => text.replace(/(\d) (nm|l|mm|bar|litres|liter|deg|km|v)\b/i, '$1$2'),
  (text) => text.toUpperCase(),
  (text) => text.toLowerCase().replace(/[.,;](?!\d)/g, ' '),
  (text, random) => {
    const spaces = [...text.matchAll(/(?<=\p{L}{3}) (?=\p{L}{3})/gu)];
    const one = spaces[Math.floor(random() * spaces.length)];
    return one ? text.slice(0, one.index) + text.slice(one.index + 1) : text;
  },
  (text) => text.replace(/ (\d)/, '  $1').replace(/,(?=[^\s\d])|(?<=\S) ,/, ', '),
];

/** Ten variants with `slips` slips each. */
export function mangle(text: string, slips: number, seed: number): string[] {
  const random = seeded(seed);
  return Array.from({ length: 10 }, () => {
    let out = text;
    for (let k = 0; k < slips; k += 1)
      out = (SLIPS[Math.floor(random() * SLIPS.length)] as Slip)(out, random);
    return out;
  });
}
