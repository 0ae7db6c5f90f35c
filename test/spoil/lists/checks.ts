import { type Spoiling, spoilingsOf } from '../spoiling.ts';

type Changes = Parameters<typeof spoilingsOf>[2];

const rule = (name: string, changes: Changes): readonly Spoiling[] =>
  spoilingsOf(`src/job/checks/${name}.ts`, [`test/job/checks/${name}.test.ts`], changes);

const skipping = (file: string, changes: Changes): readonly Spoiling[] =>
  spoilingsOf(file, ['test/job/checks/skipped.test.ts'], changes);

/** Every rule of the checker, each with a comparison turned or a condition dropped. */
export const CHECKS = [
  ...rule('skipped', [
    [
      'a report told later that was in time still stands',
      "|| outcome.is === 'told-late') return",
      ') return',
    ],
    [
      'what came afterwards is always only a remark',
      "weight !== 'routine';",
      "weight === 'routine';",
    ],
  ]),
  ...skipping('src/job/checks/order.ts', [
    ['a late report is never asked about', 'by.report.timeSaid || answered ?', 'true ?'],
  ]),
  ...skipping('src/job/facts/collect.ts', [
    ['acts that only intend raise it', 'if (!WORK.has(act.kind)) {', 'if (false) {'],
  ]),
  ...spoilingsOf(
    'src/job/state/doneness.ts',
    ['test/job/checks/not-released.test.ts'],
    [['the very moment is too late for a release', 'doneAt <= time &&', 'doneAt < time &&']],
  ),
  ...skipping('src/job/state/doneness.ts', [
    ['the very moment is too late', 'saidAt <= time &&', 'saidAt < time &&'],
    [
      'what was told later counts as known',
      'if (run.known < fact.order) return true;',
      'return true;',
    ],
  ]),
  ...skipping('src/job/state/graph.ts', [
    [
      'every position counts for every other',
      'set === undefined || set !== setOf(own.step)',
      'true',
    ],
    ['only the step directly before counts', 'waiting.push(...(ties[id] ?? []));', ''],
    [
      'a step whose option is not on the job is waited for',
      '.filter((id) => nodes[id]?.onJob)',
      '',
    ],
  ]),
  ...skipping('src/job/checks/check.ts', [
    ['a plan can lower a level', '? usual : graver(usual, raised)', '? usual : raised'],
    ['an override does nothing', 'at >= raised.coveredFrom', 'false'],
  ]),
  ...rule('not-released', [
    [
      'a hold point that was released stands all the same',
      'if (job.holds.releasedAt(hold, use.fact.when)) continue;',
      '',
    ],
    [
      'a later release settles nothing',
      'job.holds.releasedAfter(hold, use.fact.when) !== undefined',
      'false',
    ],
  ]),
  ...spoilingsOf(
    'src/job/state/holds.ts',
    ['test/job/checks/not-released.test.ts'],
    [
      ['anybody may release', '!roles.some((role) => allowed.includes(role))', 'false'],
      [
        'one may release his own work',
        '[report.worker, report.reporter].includes(event.by)',
        'false',
      ],
      ['rework leaves the release', 'ends.length === 0 ?', 'true ?'],
      ['a release before the step was done counts', '!wasPosted(given, node, at)', 'false'],
      ['what was posted after a release is released', 'fact.posted <= at', 'true'],
    ],
  ),
  ...rule('same-hands', [
    ['other hands later settle nothing', '(allowed ? undefined : run.claim) ??', ''],
    ['an override does not show', "|| why === 'same-hands-allowed')", ')'],
  ]),
  ...spoilingsOf(
    'src/job/state/hearing.ts',
    ['test/job/checks/same-hands.test.ts'],
    [
      [
        'only the worker of the check is looked at',
        'const same = [worker, reporter]',
        'const same = [reporter]',
      ],
      [
        'only the worker of the work is looked at',
        'of [report.worker, report.reporter]',
        'of [report.worker]',
      ],
      ["somebody else's word is enough", "if (!words.has(worker)) return 'own-word';", ''],
    ],
  ),
  ...rule('unsafe-state', [
    ['closed at that moment is too late', 'until <= fact.when', 'until < fact.when'],
    ['states of other jobs do not count', 'others.length > 0 ||', ''],
    [
      'a state of another job counts before it was open',
      '&& Date.parse(state.since) <= fact.when',
      '',
    ],
    ['what a state forbids by its name alone does not count', 'forbids.includes(what.is)', 'false'],
    ['it can be overridden', "override: 'never',", ''],
  ]),
  ...spoilingsOf(
    'src/job/state/vehicle-state.ts',
    ['test/job/checks/unsafe-state.test.ts'],
    [
      [
        'closed at one position is closed at all',
        'const one = open.get(position);',
        'const one = open.get(position);\n    open.clear();',
      ],
      ['what is undone stays closed', 'if (undone !== undefined) {', 'if (false) {'],
    ],
  ),
  ...rule('out-of-limits', [
    [
      'a figure within its range is flagged',
      'if (record.within !== false) continue;',
      'if (record.within === false) continue;',
    ],
    ['done again it still stands', 'redoneBy(one) === undefined', 'true'],
  ]),
  ...spoilingsOf(
    'src/job/state/asks/ask-state.ts',
    ['test/job/checks/out-of-limits.test.ts'],
    [
      ['the lower end of a range is not allowed', '|| near(low, limit.min)', ''],
      ['the upper end of a range is not allowed', '|| near(high, limit.max)', ''],
      [
        'of a range said only the middle counts',
        'quantity.high ?? quantity.value',
        'quantity.value',
      ],
    ],
  ),
  ...rule('stage-order', [
    ['the stage below may come at any time', 'below.when <= fact.when', 'true'],
    [
      'some of the bolts are the whole stage',
      'if (whole && !first.has(stage))',
      'if (!first.has(stage))',
    ],
    ['a late stage is not asked about', 'late && !below.report.timeSaid &&', 'false &&'],
  ]),
  ...rule('too-soon', [
    ['the full time is too soon', '>= wait.minutes * MINUTE', '> wait.minutes * MINUTE'],
    ['the least distance is too soon', 'run >= km.min', 'run > km.min'],
  ]),
  ...rule('wrong-position', [
    [
      'one wrong position hides the others',
      'if (raised.has(key)) continue;',
      'if (raised.size > 0) continue;',
    ],
    ['nothing is said', 'return [...raised.values()];', 'return [];'],
  ]),
  ...spoilingsOf(
    'src/job/facts/frame.ts',
    ['test/job/checks/wrong-position.test.ts'],
    [
      ['every position of the plan is on the job', 'named.has(set) ?', 'false ?'],
      [
        'a set of which none is named has none',
        ': -Infinity;\n      return joined',
        ': undefined;\n      return joined',
      ],
    ],
  ),
  ...rule('count-short', [
    [
      'as many as came off are too few',
      'total >= needed && !wasShort',
      'total > needed && !wasShort',
    ],
    ['the sums over the job are not compared', 'went.total >= came.total', 'true'],
  ]),
  ...rule('volume-short', [
    [
      'the least volume is too little',
      'total(known, ask) >= (ask.min ?? 0)) continue',
      'total(known, ask) > (ask.min ?? 0)) continue',
    ],
    [
      'what was drained afterwards counts as before',
      'volumes.filter(({ when }) => when <= fact.when)',
      'volumes',
    ],
  ]),
  ...spoilingsOf(
    'src/job/state/balance.ts',
    ['test/job/checks/volume-short.test.ts'],
    [
      ['the smaller tolerance holds', 'Math.max(tolerance.litres', 'Math.min(tolerance.litres'],
      [
        'the tolerance itself is too much',
        'apart <= allowed || near(apart, allowed)',
        'apart < allowed',
      ],
    ],
  ),
  ...rule('code-form', [
    ['a good code is flagged', 'if (reading.ok) return [];', ''],
    [
      'the alphabet does not count',
      '...(ask.alphabet !== undefined && { alphabet: ask.alphabet }),',
      '',
    ],
  ]),
  ...rule('code-mismatch', [
    ['the same code is a mismatch', 'if (compared.same) return [];', ''],
    [
      'the label of any position is compared',
      'job.graph.beside(node.id, one.node.step).includes(one.node.id)',
      'true',
    ],
  ]),
  ...rule('code-repeat', [
    [
      'read and entered count as a repeat',
      'const earlier = seen.get(key);',
      'const earlier = [...seen.values()].find((other) => bareCode(other.code) === bareCode(one.code));',
    ],
    ["the old part's code passes", 'other.ask.of === one.ask.of', 'true'],
  ]),
  ...rule('tool-out-of-date', [
    [
      'the last day is too late',
      '>= fact.report.when.slice(0, 10)',
      '> fact.report.when.slice(0, 10)',
    ],
    ['the name has to be spelled the same', "replace(/[\\s_-]+/gu, ' ')", "replace(/x/gu, ' ')"],
  ]),
  ...rule('redo', [
    ['done again it still stands', "run.state !== 'done'", 'true'],
    ["the rework's own weight decides", '(so, id) => graver(so,', '(so, id) => graver(so, so ??'],
  ]),
  ...spoilingsOf(
    'src/job/state/cycles.ts',
    ['test/job/checks/redo.test.ts'],
    [
      ['every repeated report is rework', 'fact.report.act.again === true && !fluids', '!fluids'],
      ['only the steps named are undone', '[id, ...graph.dependents(id)]', '[id]'],
      ['a top-up is rework', 'last.get(ask.fluid) === ask.kind', 'false'],
      [
        'what had no record is made due again',
        '(cycles[id]?.at(-1)?.facts.length ?? 0) > 0',
        'true',
      ],
      ['a position that joined undoes nothing', 'first.when < joined', 'false'],
    ],
  ),
  ...rule('trouble-code-back', [
    ['every code is a new one', 'before.some((one) => sameCode(one, code))', 'false'],
    ['a clean reading settles nothing', '!named.has(report.message)', 'false'],
  ]),
  ...rule('stage-repeat', [
    [
      'done again counts as a repeat',
      'earlier === undefined || again || !whole',
      'earlier === undefined || !whole',
    ],
    [
      'some of the bolts count as the stage',
      'if (whole && !first.has(stage))',
      'if (!first.has(stage))',
    ],
  ]),
  ...spoilingsOf(
    'src/job/facts/doubled.ts',
    ['test/job/checks/stage-repeat.test.ts'],
    [
      ['ten seconds are too long', '<= ONE_REPORT', '< ONE_REPORT'],
      ['another person counts as the same', '[record.by, record.channel,', '[record.channel,'],
    ],
  ),
  ...rule('not-renewed', [
    [
      'any new part says it of all',
      'renewed.length === 0 || renewed.some(',
      'renewed.length >= 0 || renewed.some(',
    ],
    ['said afterwards it was never missing', 'first.order <= claim.order ||', 'true ||'],
  ]),
  ...rule('overdue', [
    ['the very moment is too late', '(doneAt ?? job.now) > due', '(doneAt ?? job.now) >= due'],
    ['the greatest distance is too far', '> within.km.max', '>= within.km.max'],
  ]),
  ...rule('back-again', [
    ['other work counts', 'one.plan === plan.plan &&', ''],
    ['the last day is too long ago', 'since <= days * DAY', 'since < days * DAY'],
    ['what the last one found is kept back', 'foundWords(earlier.found)', "''"],
  ]),
  ...rule('unanswered', [
    ['the last minute is not waited for', '< PATIENCE', '<= PATIENCE'],
    ['a question that lapsed is still open', "state === 'lapsed' ||", ''],
  ]),
  ...rule('over-time', [
    [
      'all that is planned is too much',
      'job.minutesBooked <= planned',
      'job.minutesBooked < planned',
    ],
    ['the likely time is the most', 'time?.worst', 'time?.likely'],
  ]),
  ...rule('early-close', [
    ['an open vehicle state is no stop', "? ['stop']", "? ['advice']"],
    ['a closing before the job was opened again counts', 'at > reopened', 'true'],
  ]),
  ...spoilingsOf(
    'src/job/state/close-needs.ts',
    ['test/job/checks/early-close.test.ts'],
    [
      ['open vehicle states do not count', 'return [...states, ...open,', 'return [...open,'],
      [
        'a re-check within the hour may wait',
        '(within.minutes ?? 0) > DAY_MINUTES',
        '(within.minutes ?? 0) > 0',
      ],
      [
        'what was released still counts',
        "if (overridden.has(keyOf('skipped', step, position)) ||",
        'if (',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/job/facts/standing-acts.ts',
    ['test/job/checks/skipped.test.ts', 'test/job/facts/amendments.test.ts'],
    [
      [
        'an edit puts a step under an old message',
        'if (revision === 0) return',
        'if (revision >= 0) return',
      ],
      ['turning into done keeps the old time', 'claim < (CLAIM[act.kind] ?? 0)', 'false'],
    ],
  ),
  ...spoilingsOf(
    'src/job/facts/said-time.ts',
    ['test/job/facts/whose-and-where.test.ts'],
    [['a time to come is today', 'sameDay > posted + CLOCKS_APART', 'false']],
  ),
  ...spoilingsOf(
    'src/job/facts/amend.ts',
    ['test/job/facts/amendments.test.ts'],
    [
      [
        'of volumes all are taken back',
        'if (isVolume(frame.plan.stepById.get(act.step), latest.act)) {',
        'if (false) {',
      ],
      [
        'a correction takes the last report, whatever it names',
        'meant.find((draft) => matches(draft, act.was)) ??',
        '',
      ],
    ],
  ),
];
