// A pathological text of 100,000 characters is read in steps that grow with its length and no faster. The steps are
// counted, not timed: the calls of the reader's functions, and the characters that its patterns are laid over.
import { readFileSync } from 'node:fs';
import { Session } from 'node:inspector/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/job/load-plan.ts';
import { buildLexicon } from '../../src/language/lexicon.ts';
import { readMessage } from '../../src/language/read.ts';
import { ROOT } from '../layout/sources.ts';

const { plan } = loadPlan(
  readFileSync(`${ROOT}/data/plans/injectors-six-cylinder.yaml`, 'utf8'),
  'injectors',
);
if (!plan) throw new Error('The injector plan has errors.');
const lexicon = buildLexicon(plan);
const positions = [...plan.setOf.keys()];
const read = (text: string) => readMessage(text, lexicon, { positions });

const session = new Session();
const realExec = RegExp.prototype.exec;
let visited = 0;

beforeAll(async () => {
  session.connect();
  await session.post('Profiler.enable');
  // Every use of a pattern goes through here. What it visits: from where it begins to the end of what it finds, to the
  // end of the text where it finds nothing, and its own spot alone where it may look nowhere else.
  RegExp.prototype.exec = function exec(this: RegExp, text: string) {
    const from = this.global || this.sticky ? this.lastIndex : 0;
    const found = realExec.call(this, text);
    const to = found ? found.index + found[0].length : this.sticky ? from : String(text).length;
    visited += 1 + Math.max(0, to - from);
    return found;
  };
});
afterAll(async () => {
  RegExp.prototype.exec = realExec;
  await session.post('Profiler.disable');
  session.disconnect();
});

type Steps = { readonly calls: number; readonly visited: number };

const stepsOf = async (text: string): Promise<Steps> => {
  await session.post('Profiler.startPreciseCoverage', { callCount: true, detailed: false });
  visited = 0;
  read(text);
  const seen = visited;
  const { result } = await session.post('Profiler.takePreciseCoverage');
  await session.post('Profiler.stopPreciseCoverage');
  const calls = result
    .filter(({ url }) => url.includes('/src/'))
    .flatMap(({ functions }) => functions)
    .reduce((sum, { ranges }) => sum + (ranges[0]?.count ?? 0), 0);
  return { calls, visited: seen };
};

const PIECES = [
  ...[
    'a',
    'A',
    '1',
    '1 ',
    '0.',
    '-',
    '(',
    '"',
    ',',
    '. ',
    '\n',
    '\t',
    '10:',
    '/',
    '€',
    'é',
    '\u0301',
  ],
  ...[
    'and ',
    'not ',
    'or ',
    'no ',
    'x y ',
    'nm ',
    '28 L ',
    '28 L, ',
    'cyl 1, ',
    'cyl 1-',
    'cyl ',
    '1-6, ',
  ],
  ...[
    'drained 28 L, ',
    'pump off and ',
    'P0203 ',
    '7QK9X2 ',
    'stage 1 ',
    'at 10:15 ',
    '5 of 6 ',
    'ab1',
  ],
  ...[
    '<@U0ADA> ',
    '&lt;',
    '\u{1F527}',
    '\u202E',
    '\u200D',
    '\uD800',
    'ß',
    '三',
    'scrap that. ',
    'yes. ',
  ],
];
const of = (piece: string, length: number): string =>
  piece.repeat(Math.ceil(length / piece.length)).slice(0, length);

/** Twice the text may take so much more than twice the steps: lists are sorted, and small texts have fixed costs. */
const DOUBLE = 2.3;
/** Steps for each character at most, whatever the text. */
const CALLS_PER_CHARACTER = 600;
const VISITED_PER_CHARACTER = 6_000;

/** Counting makes the reading slow, so the full length is for the whole run; what grows faster shows at less. */
const LENGTH = process.env.CHARGEHAND_WHOLE === undefined ? 6_000 : 100_000;

describe('a pathological text', () => {
  it.each(PIECES.map((piece) => [JSON.stringify(piece), piece] as const))(
    `${LENGTH.toLocaleString('en')} characters of %s`,
    async (_shown, piece) => {
      read(of(piece, 2_000));
      const half = await stepsOf(of(piece, LENGTH / 2));
      const whole = await stepsOf(of(piece, LENGTH));
      // A constant for what every reading costs; the rest at most doubles.
      expect(whole.calls).toBeLessThanOrEqual(DOUBLE * half.calls + 20_000);
      expect(whole.visited).toBeLessThanOrEqual(DOUBLE * half.visited + 200_000);
      expect(whole.calls).toBeLessThanOrEqual(CALLS_PER_CHARACTER * LENGTH);
      expect(whole.visited).toBeLessThanOrEqual(VISITED_PER_CHARACTER * LENGTH);
    },
  );

  it('100,000 characters are read at all', () => {
    for (const piece of PIECES) expect(read(of(piece, 100_000)).acts.length).toBeLessThan(100);
  });

  it('the counting notices a pattern laid over the rest again and again', async () => {
    const slow = (text: string): void => {
      for (let at = 0; at < text.length; at += 1) /z/u.exec(text.slice(at));
    };
    const count = (length: number): number => {
      visited = 0;
      slow('a'.repeat(length));
      return visited;
    };
    expect(count(4_000) / count(2_000)).toBeGreaterThan(3.5);
  });
});
