// Whole channel conversations as plain text that a technician can read and write. See README.md beside this file.

export type Expectation =
  | { readonly kind: 'noted' | 'asked' | 'unsigned' | 'quiet' | 'closed' | 'cancelled' | 'open' }
  | {
      readonly kind:
        | 'says'
        | 'channel'
        | 'says-not'
        | 'offers'
        | 'offers-not'
        | 'vehicle'
        | 'vehicle-not';
      readonly words: string;
    };

export type Line = {
  readonly row: number;
  /** HH:MM or HH:MM:SS on the day of the conversation. */
  readonly time: string;
  readonly by: string;
  readonly does: 'says' | 'taps' | 'edits' | 'deletes' | 'waits';
  /** The text said; the label tapped; the text edited or deleted. */
  readonly text: string;
  /** What an edit makes of it. */
  readonly to?: string;
  /** What is filled in with a tap: a reason behind "because", else `with name=value; name=value`. */
  readonly fields?: Readonly<Record<string, string>>;
  readonly expects: readonly Expectation[];
};

export type Script = {
  readonly title: string;
  readonly plan: string;
  readonly job: string;
  readonly vehicle: string;
  readonly positions: readonly string[];
  /** Beside the roles: `can:brake-tester` a competence, `under:Ada` an apprentice. */
  readonly people: readonly {
    readonly name: string;
    readonly roles: readonly string[];
    readonly competences: readonly string[];
    readonly under?: string;
  }[];
  /** Odometer at opening, as said: 412,350 km. */
  readonly odometer?: string;
  /** Register of tools: id, kind, last day of use. */
  readonly tools: readonly { readonly id: string; readonly kind: string; readonly due?: string }[];
  readonly lines: readonly Line[];
};

const QUOTED = /"((?:[^"\\]|\\.)*)"/u;
const words = (text: string): string => QUOTED.exec(text)?.[1] ?? '';

const expectation = (text: string, row: number): Expectation => {
  const bare = text.trim();
  if (
    bare === 'noted' ||
    bare === 'asked' ||
    bare === 'unsigned' ||
    bare === 'quiet' ||
    bare === 'closed' ||
    bare === 'cancelled' ||
    bare === 'open'
  )
    return { kind: bare };
  for (const [start, kind] of [
    ['says not "', 'says-not'],
    ['says "', 'says'],
    ['channel "', 'channel'],
    ['offers not "', 'offers-not'],
    ['offers "', 'offers'],
    ['vehicle not "', 'vehicle-not'],
    ['vehicle "', 'vehicle'],
  ] as const)
    if (bare.startsWith(start)) return { kind, words: words(bare) };
  throw new Error(
    `line ${row}: "${bare}" is no expectation. Use noted, asked, unsigned, quiet, closed, cancelled, open, says "…", says not "…", channel "…", offers "…", offers not "…", vehicle "…", vehicle not "…".`,
  );
};

const action = (text: string, row: number): Omit<Line, 'expects'> => {
  const said =
    /^(\d\d:\d\d(?::\d\d)?)\s+(?:(.+?):\s(.*)|(\S+) taps (.*)|(\S+) edits (.*)|(\S+) deletes (.*)|(waits))$/su.exec(
      text,
    );
  if (!said)
    throw new Error(
      `line ${row}: "${text}" is no line. Write it as: 07:30 Ada: the text; 07:31 Ada taps "label"; 07:32 Ada edits "old" to "new"; 07:33 Ada deletes "text"; 07:34 waits.`,
    );
  const [, time = '', speaker, speech, tapper, tap, editor, edit, deleter, gone, waits] = said;
  if (waits) return { row, time, by: '', does: 'waits', text: '' };
  if (tapper) {
    const because = /" because (.*)$/u.exec(tap ?? '')?.[1];
    const filled = /" with (.*)$/u.exec(tap ?? '')?.[1];
    const fields = Object.fromEntries([
      ...(because ? [['reason', because]] : []),
      ...(filled ?? '')
        .split(';')
        .map((pair) => pair.split('=').map((part) => part.trim()))
        .filter(([name]) => name),
    ]) as Record<string, string>;
    return {
      row,
      time,
      by: tapper,
      does: 'taps',
      text: words(tap ?? ''),
      ...(Object.keys(fields).length > 0 ? { fields } : {}),
    };
  }
  if (editor) {
    const [old = '', next = ''] = (edit ?? '')
      .split('" to "')
      .map((part) => part.replaceAll('"', ''));
    return { row, time, by: editor, does: 'edits', text: old, to: next };
  }
  if (deleter) return { row, time, by: deleter, does: 'deletes', text: words(gone ?? '') };
  return {
    row,
    time,
    by: speaker ?? '',
    does: 'says',
    text: (speech ?? '').replaceAll('\\n', '\n'),
  };
};

export const parseScript = (text: string): Script => {
  const rows = text.split('\n');
  const head = new Map<string, string>();
  const lines: { line: Omit<Line, 'expects'>; expects: Expectation[] }[] = [];
  const title = rows[0]?.trim() ?? '';
  for (const [index, row] of rows.entries()) {
    if (index === 0 || row.trim() === '' || row.trim().startsWith('#')) continue;
    if (/^\s/u.test(row)) {
      const last = lines.at(-1);
      if (!last) throw new Error(`line ${index + 1}: an expectation before any line.`);
      last.expects.push(expectation(row, index + 1));
    } else if (/^\d\d:\d\d/u.test(row))
      lines.push({ line: action(row.trimEnd(), index + 1), expects: [] });
    else {
      const [key = '', ...rest] = row.trim().split(' ');
      head.set(key, rest.join(' '));
    }
  }
  const [job = '', ...vehicle] = (head.get('job') ?? '1042 bus 17').split(' ');
  return {
    title,
    plan: head.get('plan') ?? '',
    job,
    vehicle: vehicle.join(' '),
    positions: (head.get('positions') ?? '')
      .split(',')
      .map((name) => name.trim())
      .filter((name) => name !== ''),
    people: (head.get('people') ?? 'Ada technician, Robin controller').split(',').map((entry) => {
      const [name = '', ...words] = entry.trim().split(' ');
      const under = words.find((word) => word.startsWith('under:'))?.slice(6);
      return {
        name,
        roles: words.filter((word) => !word.includes(':')),
        competences: words.filter((word) => word.startsWith('can:')).map((word) => word.slice(4)),
        ...(under ? { under } : {}),
      };
    }),
    ...(head.has('odometer') ? { odometer: head.get('odometer') ?? '' } : {}),
    tools: (head.get('tools') ?? '')
      .split(',')
      .map((entry) => entry.trim().split(' '))
      .filter(([id]) => id)
      .map(([id = '', kind = '', due]) => ({ id, kind, ...(due ? { due } : {}) })),
    lines: lines.map(({ line, expects }) => ({ ...line, expects })),
  };
};
