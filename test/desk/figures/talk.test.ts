// A report, a command or ordinary talk is no question for a figure: nothing is answered.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Act } from '../../../shared/reading.ts';
import { ask } from './ground.ts';
import { sampleView } from './sample-view.ts';

const VIEWS = [
  undefined,
  sampleView('injectors-six-cylinder'),
  sampleView('hub-bearing'),
  sampleView('coolant-pump'),
] as const;

const REPORTS = [
  'drained 28 L',
  'drained 28 L at 30 percent',
  'drained 28 of 40 litres, refilled with concentrate',
  'filled 26 litres',
  'topped up 2 L, level ok',
  'filled with 50 percent antifreeze',
  'coolant good to -37',
  'frost protection -37',
  'tester reads -37, fine',
  'mixed 50 percent antifreeze',
  'torqued to 60',
  'torqued to 60 nm ok',
  'torque stage 2 done',
  'clamps 45 nm all six',
  'wheel nuts 600 nm, paint marked',
  '60 nm done with tw-03',
  'done 300 nm with a 100 mm extension, wrench set to 240',
  'set 240 on the wrench with the crowfoot',
  'used TW-03 for the clamps, in date',
  'all 10 wheel nuts tight',
  'tightened 10 wheel nuts in order',
  'ordered 10 wheel nuts',
  'need to order 5 bolts',
  'order 10 nuts from stores please',
  'bearing preload 0.05',
  'bearing preload set, 12 nm',
  'preload done',
  'end play 0.05',
  'end play 0.05 ok',
  'run-out 0.08 mm, fine',
  'battery 12.6 v',
  'injector 0.42 ohm cyl 3',
  'compression test done',
  'compression good on all six',
  'cyl 3 leak down 22 percent',
  'valves done on 1 and 6',
  'valves set with 1 at tdc',
  'crank at 1 tdc',
  'tappets 1 3 5 done',
  'inlet 0.30 exhaust 0.60 cyl 3',
  'fitted 2.70 shim on exhaust 3',
  'adjuster turned 36 degrees',
  'code ABC123 entered',
  'cyl 3 code 7QK9X2 read',
  'code 7QK9X2 is in',
  'codes cleared',
  'codes read, P0203 and P0301 stored',
  'faults read: spn 653 fmi 5',
  'no codes after the run',
  'P0203 is back',
  'codes 5 and 6 in',
  'vin plate cleaned',
  'started 07:00',
  'worked from 07:00 to 15:30',
  'on it from 07:00 till break',
  'clocked on 07:00',
  'booked 2 h on this',
  '2 h so far',
  'back in 10 min',
  'be there at 13:00, 3 h of work left',
  'done 5 of 6',
  '28',
  '28 or 26',
  '45 nm',
  '2 gal',
  'stage 2 at 45 then 90 degrees',
  'cyl 3 in at 0.3',
  'pipe clips 6 of 6 on in bay 4',
  '412350 km',
  'oil in, 36 litres',
  'rail pressure 3 bar',
  'temperature 48 c, cold enough',
  'still 2 L in the bucket',
  'what a day',
  'how long is the break?',
  'is it on stands?',
  'is anyone in bay 4?',
  'who has the 400 arm?',
  'where is the 100 mm extension?',
  'coffee at 10:00?',
  'are the codes in?',
  'what torque for stage 2',
  "what's next",
  'where are we',
  'open jobs',
  'release stage 2',
  'handover',
] as const;

describe('no figure is answered to', () => {
  it.each(REPORTS)('%s', (text) => {
    for (const view of VIEWS) expect(ask(text, view)?.card.text).toBeUndefined();
  });
});

const CHATTER = new URL('../../chatter/', import.meta.url);
const chatter = existsSync(CHATTER)
  ? readdirSync(CHATTER).filter((name) => name.endsWith('.txt'))
  : [];
it.skipIf(chatter.length === 0)('no line of test/chatter (left out where it is not there)', () => {
  const taken = chatter.flatMap((name) =>
    linesOf(new URL(name, CHATTER)).filter((line) => VIEWS.some((view) => ask(line, view))),
  );
  expect(taken).toEqual([]);
});

type Row = { readonly plan: string; readonly text: string; readonly acts: readonly Act[] };
const CORPUS = new URL('../../../data/corpus/', import.meta.url);

it('no labelled message but those that ask for a limit or for hours', () => {
  const rows = readdirSync(CORPUS)
    .filter((name) => name.endsWith('.jsonl'))
    .flatMap((name) => linesOf(new URL(name, CORPUS)).map((line) => JSON.parse(line) as Row));
  expect(rows.length).toBeGreaterThan(300);
  const views = new Map(
    [...new Set(rows.map(({ plan }) => plan))].map((plan) => [plan, sampleView(plan)] as const),
  );
  const mayAsk = ({ acts }: Row) =>
    acts.length > 0 && acts.every(({ command }) => command === 'limit' || command === 'hours');
  const taken = rows
    .filter((row) => !mayAsk(row) && (ask(row.text, views.get(row.plan)) || ask(row.text)))
    .map(({ text }) => text);
  expect(taken).toEqual([]);
});

const CHAT = new URL('../../../../shared/open-data/chat-lines.txt', import.meta.url);
it.skipIf(!existsSync(CHAT))(
  'no line of 2,500 of ordinary chat (left out where that file is not beside the checkout)',
  () => {
    const taken = linesOf(CHAT).filter((line) => VIEWS.some((view) => ask(line, view)));
    expect(taken).toEqual([]);
  },
);

function linesOf(file: URL): readonly string[] {
  return readFileSync(file, 'utf8')
    .split('\n')
    .filter((line) => line.trim() !== '');
}
