import { spoilingsOf } from '../spoiling.ts';

const LOAD = ['test/job/plan-file/load-plan.test.ts'];
const folder = 'src/job/plan-file';

/** The plan file: its form, its meaning, and how it is compiled. */
export const PLAN_FILE = [
  ...spoilingsOf(
    'src/job/nearest-name.ts',
    ['test/job/nearest-name.test.ts'],
    [
      ['swapped neighbours count two', 'if (swapped)', 'if (false)'],
      [
        'the last of two equally near names wins',
        'if (distance < least) {',
        'if (distance <= least) {',
      ],
      ['any shared word is near enough', 'if (enough && shared > most)', 'if (shared > most)'],
    ],
  ),
  ...spoilingsOf('src/job/load-plan.ts', LOAD, [
    ['a plan with errors is given out', 'if (wrong || !form.file)', 'if (!form.file)'],
    ['complaints come in no order', 'a.line - b.line', 'b.line - a.line'],
  ]),
  ...spoilingsOf(`${folder}/read-yaml.ts`, LOAD, [
    ['a file of any size is read', 'text.length > LONGEST_TEXT', 'false'],
    [
      'doubled keys pass',
      'if (before === undefined) {\n          first.set',
      'if (true) {\n          first.set',
    ],
    ['an anchor in itself passes', 'path.includes(target)', 'false'],
  ]),
  ...spoilingsOf(`${folder}/mistyped-keys.ts`, LOAD, [
    ['a misspelled key hides what is under it', 'if (more.length === 0) break;', 'break;'],
    ['the path names the right spelling, not the written one', '?? key);', '&& key);'],
  ]),
  ...spoilingsOf(`${folder}/meaning/names.ts`, LOAD, [
    [
      'a doubled id passes',
      "if (before === undefined) continue;\n    say([...at, 'id']",
      "if (true) continue;\n    say([...at, 'id']",
    ],
    [
      'a position in two sets passes',
      ".toLowerCase().replace(/\\s+/g, ' ')",
      ".replace(/\\s+/g, ' ')",
    ],
    ['an unknown step passes', '!survey.stepIds.has(name.name)', 'false'],
    ['a step may name itself', 'name.name === id', 'false'],
    ['an unknown fluid or state passes', 'if (!sets[thing].includes(name.name))', 'if (false)'],
  ]),
  ...spoilingsOf(`${folder}/meaning/order.ts`, LOAD, [
    ['a cycle passes', 'if (!way || way.length < 3) continue;', 'continue;'],
    ['a cycle is told once for each of its steps', 'told.add(members);', ''],
    [
      'a tie to a step of another option passes',
      'if (option === undefined || option === it.option) continue;',
      'continue;',
    ],
    ['a wait longer than the time it is due in passes', 'wait.minutes <= within.minutes', 'true'],
  ]),
  ...spoilingsOf(`${folder}/meaning/states.ts`, LOAD, [
    ['a state that never closes passes', 'if (closedNames.has(name)) continue;', 'continue;'],
    ['a state that never opens passes', 'if (openedNames.has(name)) continue;', 'continue;'],
    ['a state only an option closes passes', 'closers.length === 0 || always', 'true'],
    [
      'a step forbidden for good passes',
      'late = closers.every((closer)',
      'late = !closers.every((closer)',
    ],
  ]),
  ...spoilingsOf(`${folder}/meaning/figures.ts`, LOAD, [
    ['min above max passes', '|| min <= max) return', '|| min >= max) return'],
    [
      'a stage without torque and angle passes',
      'it.torque === undefined && it.angle === undefined',
      'false',
    ],
    ['a limit without a source passes', 'if (hasLimit(ask.it))', 'if (false)'],
    ['a source of the plan does not count', '|| survey.plan.source !== undefined', ''],
    ['times in any order pass', 'best <= likely && likely <= worst', 'best <= worst'],
    ['a target outside its range passes', 'target < min || target > max', 'target < min'],
  ]),
  ...spoilingsOf(`${folder}/meaning/parts.ts`, LOAD, [
    ['off without on passes', 'if (off.length === 0 || on.length === 0)', 'if (off.length === 0)'],
    ['counts that differ pass', 'sum(off) === sum(on) ||', 'true ||'],
    ['positions are not multiplied in', 'Number.NaN) * times', 'Number.NaN)'],
    [
      'a code entered and never read passes',
      'if (!label) {',
      'if (!label) continue;\n    if (at.length === 0) {',
    ],
    ['two forms of one code pass', 'label.form !== ask.form', 'false'],
  ]),
  ...spoilingsOf(`${folder}/meaning/people.ts`, LOAD, [
    [
      'a weight without a reason passes',
      "weight === 'routine' || step.it.why !== undefined",
      'true',
    ],
    ['a plan may lower a flag', 'LEVELS.indexOf(level) < LEVELS.indexOf(usual)', 'true'],
  ]),
  ...spoilingsOf(`${folder}/meaning/wording.ts`, LOAD, [
    ['words in another order are other words', '.sort()', ''],
    ['articles tell steps apart', '&& !FILLERS.has(word)', ''],
  ]),
  ...spoilingsOf(`${folder}/step-order.ts`, LOAD, [
    ['a check does not come after its steps', '...(step.check ?? []),', ''],
    ['only the steps directly before count', 'waiting.push(...(direct.get(id) ?? []));', ''],
  ]),
  ...spoilingsOf(
    'src/cli/plan-check.ts',
    ['test/cli/plan-check.test.ts'],
    [
      ['complaints exit 0', 'result.good ? 0 : 1', '0'],
      ['wrong use exits 1', 'return 2;', 'return 1;'],
    ],
  ),
  ...spoilingsOf(`${folder}/compile-plan.ts`, LOAD, [
    [
      'what rests on a step is what it needs',
      'behind: reachable(follows)',
      'behind: reachable(direct)',
    ],
    [
      'the hash is of the compiled plan',
      ".update(text, 'utf8')",
      ".update(JSON.stringify(file), 'utf8')",
    ],
    [
      'positions know no set',
      'names.map((name): [string, string] => [name, set])',
      '[...names].slice(0, 0).map((name): [string, string] => [name, set])',
    ],
  ]),
  ...spoilingsOf(`${folder}/form-words.ts`, LOAD, [
    [
      'a missing key is not said to be missing',
      "if (value === undefined && issue.code !== 'invalid_key')",
      'if (false)',
    ],
    [
      'an empty key is a wrong type',
      "if (value === null && issue.code !== 'invalid_key') {",
      'if (path.length > 99) {',
    ],
  ]),
  ...spoilingsOf(
    `${folder}/draft.ts`,
    [...LOAD, 'test/job/plan-file/load-plan.fuzz.test.ts'],
    [
      ['a value of the wrong type reaches the rules', "'invalid_type',", "'invalid_typ',"],
      ['a key of the wrong name reaches the rules', "'invalid_key',", "'invalid_ky',"],
    ],
  ),
  ...spoilingsOf(`${folder}/place.ts`, LOAD, [
    [
      'an id does not name its step',
      "name = typeof id === 'string' && id !== ''",
      "name = typeof id === 'number' && id !== ''",
    ],
  ]),
  ...spoilingsOf(`${folder}/yaml-complaint.ts`, LOAD, [
    ['every fault of the text is about a colon', 'CODES[fault.code] ?? COLON', 'COLON'],
  ]),
  ...spoilingsOf(
    'src/job/plan-check.ts',
    ['test/job/plan-check.test.ts'],
    [
      ['a warning looks like an error', "level === 'warning' ?", "level === 'error' ?"],
      ['a plan with complaints is good', 'good: plan !== undefined', 'good: true'],
    ],
  ),
  ...spoilingsOf(
    'src/job/read-back.ts',
    ['test/job/read-back.test.ts'],
    [
      [
        'limits have no source',
        'const source = own ?? step.source ?? plan.source;',
        'const source = own ?? step.source;',
      ],
      ['a lower limit is an upper one', 'return `, at least', 'return `, at most'],
      ['the tolerance is not said', 'stage.tolerance ?? 5', 'stage.tolerance'],
    ],
  ),
];
