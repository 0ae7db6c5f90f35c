import { spoilingsOf } from '../spoiling.ts';

const JOB = ['test/job/state', 'test/job/checks', 'test/job/facts', 'test/job/reference'];
const state = 'src/job/state';

/** How far a job is: steps, figures, what comes next, fluids and booked time. */
export const JOB_STATE = [
  ...spoilingsOf(`${state}/progress.ts`, JOB, [
    [
      'a step whose figure is missing is done',
      'claim !== undefined && missing.length === 0',
      'claim !== undefined',
    ],
    ['a step begun is partly done', "report.act.kind !== 'started'", 'true'],
    ['a stage told later does not move the time', 'Math.max(claim.when, needsAt)', 'claim.when'],
    ['parts counted short keep the order', 'state.unsaid === true', 'true'],
  ]),
  ...spoilingsOf(`${state}/asks/ask-state.ts`, JOB, [
    [
      'the lower end of a range is outside',
      'low > limit.min || near(low, limit.min)',
      'low > limit.min && !near(low, limit.min)',
    ],
    [
      'the upper end of a range is outside',
      'high < limit.max || near(high, limit.max)',
      'high < limit.max && !near(high, limit.max)',
    ],
  ]),
  ...spoilingsOf(`${state}/asks/stages.ts`, JOB, [
    [
      'a stage without its figure is none',
      "const whole = act.kind === 'done' && !someOnly(ask, act);",
      "const whole = act.kind === 'done' && !someOnly(ask, act) && act.quantity !== undefined;",
    ],
    ['the usual tolerance is ten per cent', 'USUAL_TOLERANCE = 5', 'USUAL_TOLERANCE = 10'],
    [
      'some of the fasteners are all',
      'act.count !== undefined && act.count.done <',
      'act.count !== undefined && act.count.done >',
    ],
  ]),
  ...spoilingsOf(`${state}/asks/others.ts`, JOB, [
    [
      'every count is added up',
      'count.of === undefined && total + count.done',
      'total + count.done',
    ],
    [
      'five of six off is all that came off',
      'off !== undefined && off.done < (off.of ?? 0)',
      'false',
    ],
  ]),
  ...spoilingsOf(`${state}/asks/measured.ts`, JOB, [
    ['a first container is already too little', '!(tooLittle && said)', '!tooLittle'],
    ['too much is never said', 'within: !tooMuch &&', 'within:'],
  ]),
  ...spoilingsOf(`${state}/next.ts`, JOB, [
    ['what is forbidden now comes next', 'if (forbidden) return false;', ''],
    [
      'a hold point is passed unreleased',
      '(!holds.isHold(other) || holds.releasedAt(other, now))',
      'true',
    ],
    ['waiting times are not waited for', 'ready(id) && waited(job, id)', 'ready(id)'],
    [
      'the routine comes first',
      'gravity(job, a.step) - gravity(job, b.step)',
      'gravity(job, b.step) - gravity(job, a.step)',
    ],
  ]),
  ...spoilingsOf(`${state}/step-progress.ts`, JOB, [
    ['undone work is simply open', "run.cycle.dueAgain ? 'due-again' : 'open'", "'open'"],
    ['what is not on the job is open', "onJob ? state : 'not-on-job'", 'state'],
  ]),
  ...spoilingsOf(`${state}/fluids.ts`, JOB, [
    ['a volume at two positions counts once', 'volume * fact.nodes.length', 'volume'],
  ]),
  ...spoilingsOf(`${state}/clock.ts`, JOB, [
    ['going off does not end the time', 'since.delete(who);', ''],
    ['time booked as such is not counted', 'sum + (minutes ?? 0)', 'sum'],
    ['hours said of another job count here', 'act.job !== undefined && act.job !== job', 'false'],
    ['breaks are not taken off', 'calendar ? onCalendar(clockings, now, calendar) : ', ''],
  ]),
];
