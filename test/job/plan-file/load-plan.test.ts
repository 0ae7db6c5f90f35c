import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../../src/job/load-plan.ts';
import { changed, lineOf, SAMPLE } from './sample-plan.ts';

type Row = {
  /** What is exchanged for what in the sample. */
  readonly find: string;
  readonly put: string;
  /** Text of the line the complaint stands on. */
  readonly on: string;
  readonly says: RegExp;
  readonly mend: RegExp;
  readonly level?: 'warning';
};

const FORM: readonly Row[] = [
  {
    find: '    phase: strip\n    each: side\n',
    put: '    phase: strip\n    eech: side\n',
    on: 'eech',
    says: /"eech" is no key of step "remove-clamp"/,
    mend: /^Write each/,
  },
  {
    find: 'release: [controller]',
    put: 'releese: [controller]',
    on: 'releese',
    says: /"releese" is no key of "hold" of step "lift"/,
    mend: /^Write release/,
  },
  {
    find: 'machine: Wren',
    put: 'mashine: Wren',
    on: 'mashine',
    says: /"mashine" is no key of the plan/,
    mend: /^Write machine/,
  },
  {
    find: 'machine: Wren 40 demonstration engine\n',
    put: '',
    on: 'plan: renew-clamp',
    says: /^The plan has no machine/,
    mend: /Add a line "machine: /,
  },
  {
    find: '    title: Remove the clamp\n',
    put: '',
    on: '- id: remove-clamp',
    says: /^Step "remove-clamp" has no title/,
    mend: /Add a line "title: /,
  },
  {
    find: 'id: fill\n',
    put: 'id: Fill It\n',
    on: 'id: Fill It',
    says: /"id" of step "Fill It" is "Fill It"/,
    mend: /Write fill-it\./,
  },
  {
    find: 'phase: hand back',
    put: 'phase: handback',
    on: 'handback',
    says: /"phase" of step "wheels-down" is "handback"/,
    mend: /Write hand back\./,
  },
  {
    find: '{kind: filled, fluid',
    put: '{kind: filed, fluid',
    on: 'kind: filed',
    says: /"kind" of report 1 of step "fill" is "filed"/,
    mend: /Write filled\./,
  },
  {
    find: 'unit: L, min: 25',
    put: 'unit: l, min: 25',
    on: 'unit: l',
    says: /"unit" of report 1 of step "drain" is "l"/,
    mend: /Write L\./,
  },
  {
    find: 'unit: L, min: 25',
    put: 'unit: L, min: "25 L"',
    on: '"25 L"',
    says: /"min" of report 1 of step "drain" is "25 L"/,
    mend: /Write 25 without quotes or unit/,
  },
  {
    find: 'names: [left, right]',
    put: 'names: [1, 2]',
    on: 'names: [1',
    says: /Item 1 of names of position set "side" is the number 1/,
    mend: /Put it in quotes: "1"/,
  },
  {
    find: 'release: [controller]',
    put: 'release: []',
    on: 'release: []',
    says: /"release" of step "lift" is an empty list/,
    mend: /Name who may release it/,
  },
  {
    find: 'release: [controller]',
    put: 'release: [foreman]',
    on: 'foreman',
    says: /Item 1 of release of step "lift" is "foreman"/,
    mend: /Choose one of these/,
  },
  {
    find: '    after: [fill]\n',
    put: '    after:\n',
    on: '    after:\n    closes: [on-stands]',
    says: /"after" of step "wheels-down" has nothing after it/,
    mend: /Write its value/,
  },
  {
    find: '    after: [fill]\n',
    put: '    after: fill\n',
    on: 'after: fill\n',
    says: /"after" of step "wheels-down" is "fill"/,
    mend: /Write it as a list: \[fill\]/,
  },
  {
    find: '  coolant:\n    title: coolant\n',
    put: '  Coolant 1:\n    title: coolant\n',
    on: 'Coolant 1',
    says: /The name "Coolant 1" is not spelled as names are/,
    mend: /Rename it coolant-1/,
  },
  {
    find: 'count: 3}\n      - kind: tightening',
    put: 'count: 0}\n      - kind: tightening',
    on: 'count: 0',
    says: /"count" of report 1 of step "fit-clamp" is the number 0/,
    mend: /Correct the figure/,
  },
];

const MEANING: readonly Row[] = [
  {
    find: 'after: [fill]',
    put: 'after: [fil]',
    on: 'after: [fil]',
    says: /names the step "fil", which the plan does not have/,
    mend: /^Write fill, /,
  },
  {
    find: '    after: [remove-clamp]\n',
    put: '    after: [clamp-removal]\n',
    on: 'clamp-removal',
    says: /names the step "clamp-removal"/,
    mend: /^(Write|Add) /,
  },
  {
    find: 'check: [fit-clamp]',
    put: 'check: [fit-clam]',
    on: '[fit-clam]',
    says: /"check" of step "check-clamp" names the step "fit-clam"/,
    mend: /Write fit-clamp/,
  },
  {
    find: 'check: [fit-clamp]',
    put: 'check: [check-clamp]',
    on: 'check: [check-clamp]',
    says: /Step "check-clamp" is to be an independent check of itself/,
    mend: /Name the steps whose work is checked/,
  },
  {
    find: 'undoes: [check-clamp]',
    put: 'undoes: [chekc-clamp]',
    on: 'chekc',
    says: /"undoes" of step "fit-clamp" names the step "chekc-clamp"/,
    mend: /Write check-clamp/,
  },
  {
    find: '- {after: cool-down, minutes',
    put: '- {after: cooldown, minutes',
    on: 'after: cooldown',
    says: /"waits" of step "drain" names the step "cooldown"/,
    mend: /Write cool-down/,
  },
  {
    find: 'after: [drain]\n    report:\n      - {kind: off',
    put: 'after: [drain, check-clamp]\n    report:\n      - {kind: off',
    on: 'after: [drain, check-clamp]',
    says: /^remove-clamp waits for check-clamp waits for fit-clamp waits for remove-clamp\.$/,
    mend: /Take one of these ties out/,
  },
  {
    find: 'after: [fill]',
    put: 'after: [wheels-down]',
    on: 'after: [wheels-down]',
    says: /Step "wheels-down" comes after itself/,
    mend: /Name the other step/,
  },
  {
    find: 'id: change-hose',
    put: 'id: change-pump',
    on: 'id: change-pump\n    title: Change the hose',
    says: /The id "change-pump" is already that of step 7/,
    mend: /Rename one of the two/,
  },
  {
    find: 'id: move-start',
    put: 'id: lift',
    on: 'id: lift\n    title: Start the engine',
    says: /The id "lift" is already that of step 2/,
    mend: /Rename one of the two/,
  },
  {
    find: 'each: side\n    after: [drain]',
    put: 'each: sides\n    after: [drain]',
    on: 'each: sides',
    says: /names the position set "sides"/,
    mend: /Write side,/,
  },
  {
    find: 'names: [left, right]\n    words: [side]',
    put: 'names: [left, right]\n    words: [side]\n  wheel:\n    names: [Left, inner]',
    on: 'names: [Left',
    says: /The position "Left" is already in the set "side"/,
    mend: /such as "wheel Left"/,
  },
  {
    find: '    closes: [on-stands]\n',
    put: '',
    on: 'opens: [on-stands]',
    says: /The state "on-stands" is opened here and nothing closes it/,
    mend: /Add "closes: \[on-stands\]"/,
  },
  {
    find: '    opens: [on-stands]\n',
    put: '',
    on: 'closes: [on-stands]',
    says: /The state "on-stands" is closed here and nothing opens it/,
    mend: /Add "opens: \[on-stands\]"/,
  },
  {
    find: 'opens: [on-stands]',
    put: 'opens: [on-stand]',
    on: 'opens: [on-stand]',
    says: /names the vehicle state "on-stand", which the plan does not have/,
    mend: /Write on-stands/,
  },
  {
    find: 'after: [check-clamp]\n    closes: [coolant-out]',
    put: 'after: [check-clamp]\n    closes: [coolant-out]\n    not-while: [coolant-out]',
    on: 'closes: [coolant-out]\n    not-while',
    says: /must not happen during "coolant-out", yet it is the step that closes it/,
    mend: /Take "coolant-out" out of not-while/,
  },
  {
    find: 'check: [fit-clamp]',
    put: 'check: [fit-clamp]\n    is: engine-start',
    on: 'is: engine-start\n  - id: change-pump',
    says: /Step "check-clamp" must not happen during "coolant-out", which "drain" opens before it and "fill" closes only after it/,
    mend: /Put "fill" first/,
  },
  {
    find: 'opens: [coolant-out]',
    put: 'opens: [coolant-out]\n    closes: [coolant-out]',
    on: 'closes: [coolant-out]\n    report:\n      - {kind: drained',
    says: /Step "drain" both opens and closes "coolant-out"/,
    mend: /Keep the one that is so/,
  },
  {
    find: 'after: [check-clamp]\n    closes: [coolant-out]',
    put: 'after: [check-clamp]\n    closes: [coolant-out]\n    option: with-pump',
    on: 'opens: [coolant-out]',
    says: /opens "coolant-out", and only steps of other options close it/,
    mend: /step without that option/,
  },
  {
    find: 'drained, fluid: coolant',
    put: 'drained, fluid: diesel',
    on: 'fluid: diesel',
    says: /names the fluid "diesel"/,
    mend: /Add the fluid/,
  },
  {
    find: 'drained, fluid: coolant, unit: L',
    put: 'drained, fluid: coolant, unit: kg',
    on: 'unit: kg',
    says: /is to be reported in kg/,
    mend: /Write L/,
  },
  {
    find: 'unit: L, min: 25, max: 30',
    put: 'unit: L, min: 30, max: 25',
    on: 'min: 30, max: 25',
    says: /min 30 is more than max 25 of a report of step "drain"/,
    mend: /Write min: 25 and max: 30/,
  },
  {
    find: 'target: 0.3, min: 0.25',
    put: 'target: 0.4, min: 0.25',
    on: 'target: 0.4',
    says: /The target 0.4 of valve "1" of step "change-hose" is not within 0.25 to 0.35/,
    mend: /Correct the target/,
  },
  {
    find: '      - {kind: on, part: pipe clips, count: 3}\n',
    put: '',
    on: 'kind: off',
    says: /"pipe clips" is counted off in step "remove-clamp" and nowhere on/,
    mend: /Add \{kind: on\}/,
  },
  {
    find: 'kind: on, part: pipe clips, count: 3',
    put: 'kind: on, part: pipe clips, count: 2',
    on: 'kind: on, part: pipe clips, count: 2',
    // Two sides: 2 x 3 off, 2 x 2 on.
    says: /6 "pipe clips" come off and 4 go back on/,
    mend: /Correct the count in step "remove-clamp" or step "fit-clamp"/,
  },
  {
    find: '      - {kind: code, of: trim-code, do: read, form: A9999}\n',
    put: '',
    on: 'do: enter',
    says: /Step "fit-clamp" enters "trim-code", which no step reads from the label/,
    mend: /Add it to the step/,
  },
  {
    find: 'do: enter, form: A9999',
    put: 'do: enter, form: A999',
    on: 'do: enter',
    says: /entered as "A999" and read as "A9999"/,
    mend: /Copy the form of the label/,
  },
  {
    find: 'do: read, form: A9999',
    put: "do: read, form: A'99",
    on: 'do: read',
    says: /The code form in step "remove-clamp": The quote at place 2/,
    mend: /Put the same quote/,
  },
  {
    find: '- {torque: 40}',
    put: '- {why: seats the clamp}',
    on: 'why: seats',
    says: /Stage 1 of step "fit-clamp" has neither torque nor angle/,
    mend: /Add "torque: 60" or "angle: 90"/,
  },
  {
    find: '- {angle: 90}',
    put: '- {angle: 90, tolerance: 5}',
    on: 'tolerance: 5',
    says: /Stage 2 of step "fit-clamp" has tolerance and no torque/,
    mend: /Add the torque/,
  },
  {
    find: 'tool: torque-wrench',
    put: 'tool: torque-wrenches',
    on: 'torque-wrenches',
    says: /names the kind of tool "torque-wrenches"/,
    mend: /Write torque-wrench,/,
  },
  {
    find: '    why: It must not come down on anyone.\n',
    put: '',
    on: 'weight: safety-critical\n    after: [fill]',
    says: /Step "wheels-down" is safety-critical and does not say why/,
    mend: /Add "why: /,
  },
  {
    find: 'best: 10, likely: 15, worst: 30',
    put: 'best: 20, likely: 15, worst: 30',
    on: 'best: 20',
    says: /The time of step "fit-clamp" is best 20, likely 15, worst 30/,
    mend: /Put the three in order/,
  },
  {
    find: 'source: made up for these tests\n',
    put: '',
    on: '{kind: drained',
    says: /Step "drain" has a limit without a source/,
    mend: /Add "source: /,
  },
  {
    find: 'source: made up for these tests\n',
    put: '',
    on: '{after: cool-down',
    says: /Step "drain" has a waiting time without a source/,
    mend: /Add "source: /,
  },
  {
    find: 'after: [drain]\n    option: with-hose',
    put: 'after: [drain, change-pump]\n    option: with-hose',
    on: 'after: [drain, change-pump]',
    says: /Step "change-hose" \(option with-hose\) comes after "change-pump", which is only there with option with-pump/,
    mend: /Name the step both options rest on/,
  },
  {
    find: 'option: with-pump',
    put: 'option: with-pumps',
    on: 'option: with-pumps',
    says: /names the option "with-pumps"/,
    mend: /Write with-pump,/,
  },
  {
    find: 'raise: {over-time: caution}',
    put: 'raise: {over-tim: stop}',
    on: 'over-tim:',
    says: /names "over-tim", which is no flag/,
    mend: /Write over-time/,
  },
  {
    find: 'raise: {over-time: caution}',
    put: 'raise: {unsafe-state: caution}',
    on: 'unsafe-state',
    says: /"unsafe-state" of step "cool-down" is to be "caution", and is "stop" without that/,
    mend: /Take the line out/,
  },
  {
    find: 'check: [fit-clamp]',
    put: 'check: [fit-clamp]\n    within: {after: fit-clamp, because: it settles}',
    on: 'within:',
    says: /"within" of step "check-clamp" has neither minutes nor km/,
    mend: /Add "minutes: 30"/,
  },
  {
    find: 'check: [fit-clamp]',
    put: 'check: [fit-clamp]\n    within: {after: fit-clamp, km: {min: 80, max: 40}, because: it settles}',
    on: 'within:',
    says: /min 80 is more than max 40/,
    mend: /Write min: 40 and max: 80/,
  },
  {
    find: 'check: [fit-clamp]',
    put: 'check: [fit-clamp]\n    within: {after: fit-clamp, minutes: 20, because: it settles}\n    waits: [{after: fit-clamp, minutes: 30, because: it sets}]',
    on: 'waits: [{after: fit-clamp',
    says: /waits 30 min after "fit-clamp" and is due within 20 min of it/,
    mend: /Correct one of the two times/,
  },
  {
    find: 'firing-order: [1, 3, 4, 2]',
    put: 'firing-order: [1, 3, 3, 2]',
    on: 'firing-order',
    says: /Cylinder 3 stands twice/,
    mend: /Correct the firing order/,
  },
  {
    find: '      - {kind: on, part: pipe clips, count: 3}\n',
    put: '      - {kind: on, part: pipe clips, count: 2}\n      - {kind: on, part: pipe clips, count: 1}\n',
    on: 'count: 1}',
    says: /asks twice for "on pipe clips"/,
    mend: /Give one another name/,
  },
  {
    find: 'title: Fill the coolant',
    put: 'title: Fill the coolant\n    words: [clamp remove]',
    on: 'words: [clamp remove]',
    says: /"clamp remove" is claimed by "fill" and by "remove-clamp"/,
    mend: /Add a word that tells the two apart/,
    level: 'warning',
  },
  {
    find: 'title: Look over the clamp',
    put: 'title: The Change of pump',
    on: 'title: Change the pump',
    says: /"Change the pump" is claimed by "change-pump" and by "check-clamp"/,
    mend: /Add a word/,
    level: 'warning',
  },
  {
    find: 'forbids: [engine-start]',
    put: 'forbids: [engine-starts]',
    on: 'engine-starts',
    says: /forbids "engine-starts", and no step or watched act of this plan is that/,
    mend: /Write engine-start,/,
    level: 'warning',
  },
  {
    find: '  coolant:\n    title: coolant\n',
    put: '  coolant:\n    title: coolant\n  oil:\n    title: oil\n',
    on: '  oil:',
    says: /No step uses the fluid "oil"/,
    mend: /take it out/,
    level: 'warning',
  },
];

describe('a sound plan', () => {
  it('has no complaint', () => {
    expect(loadPlan(SAMPLE, 'sample.yaml').complaints).toEqual([]);
  });

  it.each(['\uFEFF', ''])('reads with and without a byte order mark, and with CRLF', (mark) => {
    const { plan, complaints } = loadPlan(mark + SAMPLE.replaceAll('\n', '\r\n'), 'sample.yaml');
    expect(complaints).toEqual([]);
    expect(plan?.steps).toHaveLength(10);
  });
});

const rows: readonly Row[] = [...FORM, ...MEANING];
describe.each(rows)('$find exchanged for $put', ({ find, put, on, says, mend, level }) => {
  const text = changed(find, put);
  const { plan, complaints } = loadPlan(text, 'sample.yaml');
  const here = complaints.filter((complaint) => says.test(complaint.what));

  it('complains once, on the line, with what to do', () => {
    expect(complaints.map((c) => c.what)).toContainEqual(expect.stringMatching(says));
    expect(here).toHaveLength(1);
    expect(here[0]?.line).toBe(lineOf(text, on));
    expect(here[0]?.mend).toMatch(mend);
    expect(here[0]?.level).toBe(level ?? 'error');
  });

  it('gives a plan only when nothing is wrong', () => {
    expect(plan === undefined).toBe(level !== 'warning');
  });

  it.each(complaints)('says more in the remedy than in "$what"', (complaint) => {
    expect(complaint.mend).not.toContain(complaint.what);
    expect(complaint.what).not.toContain(complaint.mend);
    expect(complaint.expected.length).toBeGreaterThan(5);
    for (const part of [complaint.what, complaint.expected, complaint.mend]) {
      expect(part).toMatch(/[.]$/);
      expect(part).not.toMatch(/!|\b(unable|illegal|bad|invalid)\b|undefined/i);
    }
  });
});

describe('several faults', () => {
  it('come all at once, in the order of their lines', () => {
    const text = changed(
      'after: [fill]',
      'after: [nothing-like-it]',
      changed(
        'count: 3}\n      - {kind: code, of: trim-code, do: read',
        'cont: 3}\n      - {kind: code, of: trim-code, do: read',
        changed('phase: hand back', 'phase: handback'),
      ),
    );
    const { complaints } = loadPlan(text, 'sample.yaml');
    const whats = complaints.map((complaint) => complaint.what);
    expect(whats).toEqual([
      '"cont" is no key of report 1 of step "remove-clamp".',
      '"phase" of step "wheels-down" is "handback".',
      expect.stringContaining('names the step "nothing-like-it"'),
    ]);
    const lines = complaints.map((complaint) => complaint.line);
    expect(lines).toEqual([...lines].sort((a, b) => a - b));
  });

  it('tell a cycle once, however many steps are in it', () => {
    const text = changed(
      'after: [drain]\n    report:\n      - {kind: off',
      'after: [drain, fill]\n    report:\n      - {kind: off',
    );
    const cycles = loadPlan(text, 'sample.yaml').complaints.filter(({ what }) =>
      what.includes(' waits for '),
    );
    expect(cycles.map(({ what }) => what)).toEqual([
      'remove-clamp waits for fill waits for check-clamp waits for fit-clamp waits for remove-clamp.',
    ]);
  });

  it('are found inside a group whose key is misspelled', () => {
    const text = changed('steps:\n', 'stepps:\n', changed('after: [fill]', 'aftr: [fil]'));
    const found = loadPlan(text, 'sample.yaml').complaints.map(({ what, line, path }) => [
      what,
      line,
      path,
    ]);
    expect(found).toEqual([
      ['"stepps" is no key of the plan.', lineOf(text, 'stepps:'), 'stepps'],
      ['"aftr" is no key of step "wheels-down".', lineOf(text, 'aftr:'), 'stepps[9].aftr'],
      [
        '"after" of step "wheels-down" names the step "fil", which the plan does not have.',
        lineOf(text, 'aftr:'),
        'stepps[9].aftr[0]',
      ],
    ]);
  });
});

describe('what is not YAML, or no plan', () => {
  it.each([
    ['', /nothing in plan\.yaml/],
    ['# only a remark\n', /holds nothing|nothing/],
    ['just words\n', /The file is "just words"/],
    ['- a\n- b\n', /The file is a list/],
    ['plan: "open\n', /left open|quote/],
    ['plan: a\n\ttitle: b\n', /tab/],
    ['plan: a\ntitle: b: c\n', /colon/],
    ['plan: a\n---\nplan: b\n', /second document/],
    ['plan: !secret a\n', /special meaning/],
    ['plan: *a\n', /\*a stands for an anchor \(&a\) that is nowhere/],
    ['plan: a\nplan: b\n', /"plan" stands twice in the same group, first in line 1/],
    ['positions: {toString: }\n', /The name "toString" is not spelled as names are/],
    ['steps: &a [*a]\n', /holds itself/],
    ['['.repeat(200_000), /deep|open/],
    [`a: ${'x'.repeat(1_000_001)}`, /characters/],
  ])('%.20j is complained about in words', (text, says) => {
    const { plan, complaints } = loadPlan(text, 'plan.yaml');
    expect(plan).toBeUndefined();
    expect(complaints.map((complaint) => complaint.what).join('\n')).toMatch(says);
    expect(complaints.every((complaint) => complaint.line >= 1)).toBe(true);
  });

  it('does not grow by anchors', () => {
    const lines = ['a: &a [x, x, x, x, x, x, x, x, x, x]'];
    for (let n = 1; n < 12; n += 1) {
      const [from, to] = [String.fromCharCode(96 + n), String.fromCharCode(97 + n)];
      lines.push(`${to}: &${to} [${Array(10).fill(`*${from}`).join(', ')}]`);
    }
    const { complaints } = loadPlan(lines.join('\n'), 'plan.yaml');
    expect(complaints[0]?.what).toMatch(/Anchors .* more than 100 times/);
  });
});

describe('the compiled plan', () => {
  const { plan } = loadPlan(SAMPLE, 'sample.yaml');

  it('has the SHA-256 of the text', async () => {
    const bytes = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(SAMPLE));
    expect(plan?.hash).toBe(Buffer.from(bytes).toString('hex'));
    expect(loadPlan(`${SAMPLE}\n`, 'sample.yaml').plan?.hash).not.toBe(plan?.hash);
  });

  it('knows all that comes before and behind a step', () => {
    expect([...(plan?.before.get('fit-clamp') ?? [])].sort()).toEqual(
      ['cool-down', 'drain', 'lift', 'remove-clamp'].sort(),
    );
    // The check names no "after": it comes after what it checks all the same.
    expect(plan?.before.get('check-clamp')).toContain('fit-clamp');
    expect([...(plan?.behind.get('remove-clamp') ?? [])].sort()).toEqual(
      ['check-clamp', 'fill', 'fit-clamp', 'wheels-down'].sort(),
    );
  });

  it('knows the set of each position', () => {
    expect([...(plan?.setOf ?? [])]).toEqual([
      ['left', 'side'],
      ['right', 'side'],
    ]);
  });
});

describe('warnings of another module', () => {
  const warning = {
    level: 'warning',
    line: 1,
    path: 'steps[0]',
    what: 'x.',
    expected: 'y.',
    mend: 'z.',
  } as const;

  it('join those of a sound plan', () => {
    expect(loadPlan(SAMPLE, 'sample.yaml', () => [warning]).complaints).toEqual([warning]);
  });

  it('are not asked for while the plan has errors', () => {
    const { complaints } = loadPlan('plan: a', 'sample.yaml', () => [warning]);
    expect(complaints).not.toContain(warning);
  });
});
