// German, the second language: its words, and messages of a mixed workshop read with it.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Act } from '../../shared/reading.ts';
import type { ReadContext } from '../../src/language/context.ts';
import { kinship } from '../../src/language/match/kinship.ts';
import { prepare } from '../../src/language/message.ts';
import { forms, root } from '../../src/language/packs/de/forms.ts';
import { german } from '../../src/language/packs/de/index.ts';
import { numbers } from '../../src/language/packs/de/numbers.ts';
import { readMessage } from '../../src/language/read.ts';
import { makeSplitter } from '../../src/language/tidy/compounds.ts';
import { allLexicons, lexiconFor } from './plans.ts';

const said = (text: string, from: 'bot' | 'person' = 'person'): ReadContext => ({
  previous: [{ id: 'before', from, text }],
});

/** Kind, step, positions and figures of each act in one line. */
const short = (act: Act): string =>
  [
    act.kind,
    act.step,
    act.positions.map((name) => name.replace('cylinder ', '')).join(',') || undefined,
    act.quantity ? `${act.quantity.value} ${act.quantity.unit}` : undefined,
    act.angle ? `${act.angle.value}°` : undefined,
    act.stage === undefined ? undefined : `stage ${act.stage}`,
    act.count ? `${act.count.done} pieces` : undefined,
    act.by,
    act.command,
  ]
    .filter((one) => one !== undefined)
    .join(' ');

const read = (plan: string, text: string, context: ReadContext = {}) =>
  readMessage(text, lexiconFor(plan), context).acts.map(short);

describe('the words of German', () => {
  it.each([
    ['Räder', 'Rad'],
    ['Schläuche', 'Schlauch'],
    ['Böcke', 'Bock'],
    ['Beläge', 'Belag'],
    ['Schrauben', 'Schraube'],
    ['Muttern', 'Mutter'],
    ['Achsen', 'Achse'],
    ['Kuehlmittel', 'Kühlmittel'],
    ['Gestaenge', 'Gestänge'],
  ])('%s and %s are compared as one word', (one, other) => {
    expect(root(one.toLowerCase())).toBe(root(other.toLowerCase()));
  });

  it.each([
    ['Lager', 'Lage'],
    ['Steuer', 'Stück'],
    ['Mutter', 'Motor'],
  ])('%s and %s are not', (one, other) => {
    expect(root(one.toLowerCase())).not.toBe(root(other.toLowerCase()));
  });

  it.each([
    ['sattelschrauben', ['sattel', 'schraube']],
    ['achsmutter', ['achse', 'mutter']],
    ['radmuttern', ['rad', 'mutter']],
    ['getriebeöl', ['getriebe', 'öl']],
    ['schlauchschelle', ['schlauch', 'schelle']],
    ['federspeicher', undefined],
    ['kaffeepumpe', undefined],
    ['angezogen', undefined],
  ])('%s is made of %s', (word, pieces) => {
    expect(makeSplitter(german)(word)).toEqual(pieces);
  });

  it.each([
    ['null', 0],
    ['siebzehn', 17],
    ['achtundzwanzig', 20 + 8],
    ['einundvierzig', 40 + 1],
    ['sechsundsechzig', 60 + 6],
    ['hundertachtzig', 100 + 80],
    ['dreihundertfünfzig', 3 * 100 + 50],
    ['sechshundert', 6 * 100],
    ['anderthalb', 1 + 1 / 2],
    ['dreissig', 30],
    ['zwoelf', 12],
  ])('%s is %d', (word, value) => {
    expect(numbers[word]).toBe(value);
  });

  it('makes the regular forms of verbs', () => {
    expect(forms('prüfen').past).toContain('geprüft');
    expect(forms('entlüften').past).toContain('entlüftet');
    expect(forms('montieren').past).toContain('montiert');
    expect(forms('öffnen').past).toContain('geöffnet');
  });

  it('never gives a prefix and its opposite families that may stand for one another', () => {
    const classes = (base: string) =>
      german.verbs.find((verb) => verb.base === base)?.classes ?? [];
    for (const [one, other] of [
      ['ausbauen', 'einbauen'],
      ['abbauen', 'anbauen'],
      ['abklemmen', 'anklemmen'],
      ['anziehen', 'lösen'],
      ['ablassen', 'auffüllen'],
      ['abstecken', 'anstecken'],
      ['auspressen', 'einpressen'],
      ['sichern', 'entsichern'],
    ] as const) {
      expect(classes(one).length, one).toBeGreaterThan(0);
      expect(classes(other).length, other).toBeGreaterThan(0);
      expect(
        classes(one).some((a) => classes(other).some((b) => kinship(a, b) < 0)),
        `${one} against ${other}`,
      ).toBe(true);
    }
  });
});

describe('reports', () => {
  it.each([
    ['injectors', 'Injektoren 1 bis 3 sind raus', ['done pull-injector 1,2,3']],
    ['injectors', 'Hab die Injektoren 1-3 rausgezogen', ['done pull-injector 1,2,3']],
    ['injectors', 'VENTILDECKEL AB', ['done remove-rocker-cover']],
    ['injectors', 'kuehlmittel abgelassen 28 liter', ['done drain-coolant 28 L']],
    ['injectors', 'achtundzwanzig Liter Kühlwasser raus', ['done drain-coolant 28 L']],
    ['injectors', '27,5 Liter Kühlmittel abgelassen', ['done drain-coolant 27.5 L']],
    ['injectors', '45 nm auf allen Pratzen', ['done tighten-clamp 1,2,3,4,5,6 45 N.m stage 2']],
    [
      'injectors',
      'Pratzen 1,2,3 auf Stufe 2 gezogen, 45Nm',
      ['done tighten-clamp 1,2,3 45 N.m stage 2'],
    ],
    [
      'injectors',
      'Pratze 3 mit 45 Newtonmeter, Pratze 4 nicht',
      ['done tighten-clamp 3 45 N.m stage 2', 'not-done tighten-clamp 4'],
    ],
    [
      'injectors',
      'Pratzen angezogen außer 4 und 5',
      ['done tighten-clamp 1,2,3,6', 'not-done tighten-clamp 4,5'],
    ],
    [
      'injectors',
      'Injektor 1 und 2 ausgebaut, 3 folgt morgen',
      ['done pull-injector 1,2', 'intends pull-injector 3'],
    ],
    ['injectors', 'Rücklaufleitung abgezogen', ['done remove-return-line']],
    ['injectors', 'Laut Ole ist die Batterie ab', ['done isolate-battery Ole']],
    ['injectors', 'Ole hat die Injektoren 1 bis 3 eingesetzt', ['done fit-injector 1,2,3 Ole']],
    [
      'injectors',
      'Kühlmittel sechsundzwanzig Komma fünf Liter raus',
      ['done drain-coolant 26.5 L'],
    ],
    ['injectors', 'heute Morgen die Injektoren 1 bis 3 ausgebaut', ['done pull-injector 1,2,3']],
    ['hub', 'Rad VL und VR ab', ['done remove-wheel front left,front right']],
    ['hub', 'Achsmutter HL auf 350 angezogen', ['done tighten-hub-nut rear left 350 N.m stage 2']],
    ['hub', 'Steckachse hl gezogen', ['done pull-half-shaft rear left']],
    ['hub', 'Spiel vl 0,04 mm', ['done measure-end-play front left 0.04 mm']],
    ['clutch', 'Gelenkwelle abgeflanscht, 8 Schrauben', ['done remove-propshaft 8 pieces']],
    ['clutch', 'Getriebeoel aufgefuellt 11,5 Liter', ['done fill-gearbox-oil 11.5 L']],
    ['brake', 'Beläge links rein, rechts gleich', ['done fit-pads left', 'intends fit-pads right']],
    [
      'brake',
      'Radmutern links angezogen mit 600 nm',
      ['done tighten-wheel-nuts left 600 N.m stage 2'],
    ],
    [
      'brake',
      'Sattelschrauben rechts 180 + 60°',
      [
        'done tighten-caliper-bolts right 180 N.m stage 1',
        'done tighten-caliper-bolts right 60° stage 2',
      ],
    ],
    ['coolant', 'Thermostat getauscht', ['done renew-thermostat']],
    ['coolant', 'Kühlsystem abgedrückt, 1,2 bar gehalten', ['done pressure-test 1.2 bar']],
  ] as const)('%s: %s', (plan, text, expected) => {
    expect(read(plan, text)).toEqual(expected);
  });
});

describe('what has not happened', () => {
  it.each([
    ['Ich ziehe gerade die Pratzen von Zylinder 4 an', ['started tighten-clamp 4']],
    ['baue jetzt den Ventildeckel ab', ['started remove-rocker-cover']],
    ['Ventildeckel baue ich nach der Pause ab', ['intends remove-rocker-cover']],
    ['Sprit muss noch raus', ['not-done drain-fuel']],
    ['hd leitung 3 noch dran', ['not-done remove-high-pressure-pipe 3']],
    ['Leitungsmuttern 2 und 5 fehlen noch', ['not-done tighten-pipe-nuts 2,5']],
    ['hab vergessen den Rail zu entlasten', ['not-done relieve-rail']],
    ['Kühlmittel ablassen', []],
    ['Motor nicht starten!', []],
    ['Pratzen dürfen jetzt angezogen werden', []],
    ['Leitung 4 geht nicht ab', ['blocked remove-high-pressure-pipe 4']],
    ['Hat jemand schon das Kühlmittel abgelassen?', ['asks drain-coolant']],
    ['ist das Kühlmittel raus', ['asks drain-coolant']],
  ] as const)('%s', (text, expected) => {
    expect(read('injectors', text)).toEqual(expected);
  });

  const CRITICAL = [
    'Sind alle Pratzen fest',
    'Ist Pratze 3 fest',
    'Wurden die Pratzen schon angezogen',
    'hat Ole die Pratzen angezogen',
    'Pratzen sind angezogen, oder?',
    'Pratze 3 angezogen glaub ich',
    'Ich glaube, die Pratzen sind alle fest.',
    'Die Pratzen sind alle fest, denke ich.',
    'Pratzen wahrscheinlich alle fest',
    'Pratzen müssten alle angezogen sein',
    'Pratzen hätten alle angezogen sein müssen',
    'Pratzen können alle angezogen werden',
    'Pratzen alle anziehen',
    'bitte alle Pratzen mit 45 Nm anziehen',
    'Pratzen mit 45 Nm anziehen',
    'Pratzen werden morgen alle angezogen',
    'Pratzen alle noch nicht angezogen',
    'Pratzen weder angezogen noch geprüft',
    'keine der Pratzen ist angezogen',
    'Pratzen alle fast angezogen',
    'Pratzen alle handfest',
    'Pratzen alle nur von Hand',
    'Chef will dass alle Pratzen angezogen sind',
    'bevor alle Pratzen angezogen werden',
    'wenn alle Pratzen angezogen sind geht es weiter',
    'sobald die Pratzen alle fest sind',
    'falls die Pratzen alle angezogen sind',
    'Überwurfmutter 3 ist fest und geht nicht los',
    'Pratze 3 sitzt fest',
    'Pratze 3 war fest wie Beton',
    'die Pratzen sollten alle angezogen sein',
    'angeblich sind die Pratzen alle fest',
    'Pratzen alle angezogen, von wem auch immer',
    'laut Plan werden alle Pratzen angezogen',
    'Pratzen alle angezogen wär schön',
    'Pratze 3 war fest',
    'Pratzen waren alle fest',
    'Pratzen sind alle fest gewesen',
    'Pratzen alle fest, dachte ich',
    'Wären die Pratzen alle angezogen',
    'alle Pratzen bekommen 45 Nm',
    'alle Pratzen gehören auf 45 Nm',
    'alle Pratzen brauchen 45 Nm',
    'alle Pratzen: Sollwert 45 Nm',
    'Rail drucklos machen',
    'Rail drucklos, hoffe ich',
    'Rail wird drucklos',
    'Die Pratzen sind alle auf 45 Nm anzuziehen',
    'mein Rücken ist fester angezogen als die Pratzen',
  ];

  it.each(CRITICAL)('records nothing safety-critical as done: %s', (text) => {
    const plan = lexiconFor('injectors').plan;
    const done = readMessage(text, lexiconFor('injectors'), {}).acts.filter(
      (act) =>
        act.kind === 'done' && plan.stepById.get(act.step ?? '')?.weight === 'safety-critical',
    );
    expect(done).toEqual([]);
  });
});

it.each([
  'Achse vorne links angehoben',
  'Achse vl noch auf dem Heber',
  'Achse muss auf Böcken stehen',
  'Achse auf Böcke stellen',
  'Radmuttern vl bekommen 600 Nm',
  'Radmuttern vl werden mit 600 Nm angezogen',
  'bitte Radmuttern vl 600 Nm',
  'Radmuttern vl so gut wie angezogen',
  'Radmuttern vl 600 Nm fehlt noch',
])('a wheel off the ground is not on stands, and nuts that should be tight are not: %s', (text) => {
  const plan = lexiconFor('hub').plan;
  const done = readMessage(text, lexiconFor('hub'), {}).acts.filter(
    (act) => act.kind === 'done' && plan.stepById.get(act.step ?? '')?.weight === 'safety-critical',
  );
  expect(done).toEqual([]);
});

describe('a thread in two languages', () => {
  it.each([
    ['ja', said('Are the clamps on cylinder 3 torqued?', 'bot'), ['done tighten-clamp 3']],
    [
      'nein, noch nicht',
      said('Are the clamps on cylinder 3 torqued?', 'bot'),
      ['not-done tighten-clamp 3'],
    ],
    ['yes', said('Sind die Pratzen von Zylinder 3 angezogen?', 'bot'), ['done tighten-clamp 3']],
    ['26 not 28', said('28 L Kühlmittel abgelassen'), ['corrects drain-coolant 26 L']],
    ['nicht 28 sondern 26 Liter', said('drained 28 L of coolant'), ['corrects drain-coolant 26 L']],
    ['ich meine Zylinder 4', said('injector 5 out'), ['corrects pull-injector 4']],
    ['und 4 auch', said('injector 3 out'), ['done pull-injector 4']],
    ['Injector 3 raus', {}, ['done pull-injector 3']],
    ['Rocker cover ab', {}, ['done remove-rocker-cover']],
  ] as const)('%s', (text, context, expected) => {
    expect(read('injectors', text, context)).toEqual(expected);
  });

  it('takes back what was reported in the other language', () => {
    const [act] = readMessage(
      'vergiss das',
      lexiconFor('injectors'),
      said('rocker cover off'),
    ).acts;
    expect(act?.kind).toBe('retracts');
    expect(act?.step).toBe('remove-rocker-cover');
  });

  it.each([
    ['was kommt als nächstes', 'next'],
    ['wo stehen wir', 'where'],
    ['was fehlt noch', 'where'],
    ['was hast du verstanden?', 'what-did-you-read'],
    ['offene Aufträge', 'open-jobs'],
    ['Übergabe bitte', 'handover'],
    ['Wie viel Nm Stufe 3?', 'limit'],
  ])('understands the command: %s', (text, command) => {
    expect(readMessage(text, lexiconFor('injectors'), {}).acts[0]?.command).toBe(command);
  });

  it('knows the language of a labelled message in 99 of 100', () => {
    const files = [
      'injectors.plain',
      'hub.caps',
      'brakes.de-kurz',
      'injectors.de-satz',
      'clutch.de-locker',
    ];
    const wrong: string[] = [];
    let all = 0;
    for (const file of files) {
      const url = new URL(`../../data/corpus/${file}.jsonl`, import.meta.url);
      const lines = readFileSync(url, 'utf8').split('\n');
      for (const line of lines.filter((one) => one.trim() !== '')) {
        const label = JSON.parse(line) as { plan: string; text: string; lang: string };
        all += 1;
        const { tongue } = prepare(label.text, lexiconFor(label.plan), {});
        if (tongue.pack.code !== label.lang) wrong.push(label.text);
      }
    }
    expect(all).toBeGreaterThan(300);
    expect(wrong.length / all, wrong.join(' | ')).toBeLessThan(0.01);
  });
});

it('leaves German talk alone', () => {
  const lines = readFileSync(new URL('../chatter/german.txt', import.meta.url), 'utf8')
    .split('\n')
    .filter((line) => line.trim() !== '' && !line.startsWith('#'));
  const loud: string[] = [];
  let questions = 0;
  for (const lexicon of allLexicons()) {
    for (const line of lines) {
      for (const act of readMessage(line, lexicon, {}).acts) {
        if (act.kind === 'unsure') questions += 1;
        else if (!/^(asks|command|clock)$/.test(act.kind))
          loud.push(`${lexicon.plan.plan}: ${line}`);
      }
    }
  }
  expect(loud).toEqual([]);
  expect(questions / (lines.length * allLexicons().length)).toBeLessThanOrEqual(2 / 1000);
});
