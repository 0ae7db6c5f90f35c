// The orders one by one, each with sentences that are it and sentences that are not. A form takes the whole message:
// words of an order inside a report never become one.
import { distanceSaid } from './distance-said.ts';
import type { OrderContext, OrderForm, OrderSaid } from './order.ts';
import { reasonSaid } from './reason-said.ts';

const NAME = "([\\p{L}][\\p{L}'-]*)";
const JOB = '#?([A-Za-z]{0,3}-?\\d{2,8})';

const form = (pattern: string): RegExp => new RegExp(`^(?:${pattern})$`, 'iu');

const jobIn = (said: string | undefined, { jobs }: OrderContext): string | undefined =>
  jobs.find((job) => job.toLowerCase() === said?.toLowerCase());

const withJob = (said: string | undefined, known: OrderContext): OrderSaid | undefined => {
  const job = jobIn(said, known);
  return job === undefined ? undefined : { job };
};

const reasoned = (text: string): OrderSaid => {
  const note = reasonSaid(text);
  return note === undefined ? {} : { note };
};

const GIVE = form(
  `(?:give|assign|hand|pass)\\s+(?:job\\s+)?(?:${JOB}|it|this|that|this job|the job|that job)?\\s*(?:over\\s+)?(?:to\\s+)?${NAME}`,
);
const PUT_ON = form(
  `(?:put\\s+${NAME}\\s+on\\s+(?:job\\s+)?(?:${JOB}|it|this|this job)|(?:new\\s+)?tech(?:nician)?\\s*(?:is|:|=|to)?\\s+${NAME}|change\\s+tech(?:nician)?\\s+to\\s+${NAME})`,
);
const CONTROLLER = form(
  `(?:(?:new\\s+)?controller\\s*(?:is|:|=|to)?\\s+${NAME}|(?:change|set)\\s+(?:the\\s+)?controller\\s+to\\s+${NAME})`,
);
const PROMISE = form(
  `(?:job\\s+)?(?:${JOB}\\s*:?\\s+)?(?:is\\s+)?(?:now\\s+)?(?:promised|promise)(?:\\s+(?:it|him|them|her))?\\s*(?:for|by|to)?\\s+(.{3,40})`,
);
const NO_PROMISE = form('(?:no promise|not promised(?: any ?more)?|promise withdrawn)');
const MOVE = form(
  `(?:(?:that|this|it|the last (?:one|message)|last (?:one|message))\\s+(?:was|is|were|belongs|goes)\\s+(?:meant\\s+)?(?:for|to|on|under)\\s+(?:job\\s+)?${JOB}|(?:wrong job|sorry wrong job|oops wrong job)[,;:.]?\\s*(?:(?:it|that)?\\s*(?:is|was|should be|meant)?\\s*(?:for)?\\s*(?:job\\s+)?)${JOB}|(?:move|put)\\s+(?:that|this|it|the last (?:one|message)|(?:the\\s+)?message)\\s+(?:to|on|under)\\s+(?:job\\s+)?${JOB})`,
);
const MOVE_SEVERAL = form(
  `(?:move|put)\\s+(?:the\\s+)?last\\s+(\\d{1,2})(?:\\s+(?:messages|ones|reports))?\\s+(?:to|on|under)\\s+(?:job\\s+)?${JOB}`,
);
const MERGE = form(
  `(?:merge|merge (?:it|this|this job))\\s+(?:in|into|with|to)\\s+(?:job\\s+)?${JOB}|(?:same job as|duplicate of|double of)\\s+(?:job\\s+)?${JOB}`,
);
const REOPEN = form(
  '(?:re-?open|open)(?:\\s+(?:the|this))?(?:\\s+job)?(?:\\s+again)?(?:\\s*[,:;]?\\s+.{2,})?',
);
const CLOSE = form(
  '(?:please\\s+)?close(?:\\s+(?:the|this|off))?(?:\\s+(?:job|it))\\b[\\s,;:]*(?:(?:at|with|on|odo(?:meter)?|clock)\\b)?\\s*(.{2,40})',
);
/** What "close job without reading" says in its note. */
export const WITHOUT_READING = 'without reading';
const NO_READING =
  /(?:^|\b)(?:without|no)\s+(?:a\s+|an\s+)?(?:reading|odo(?:meter)?|hours|clock)\b/iu;
const ODOMETER = form(
  '(?:odo(?:meter)?|clock|hour ?meter|hours|mileage|reading)\\s*(?:is|now|at|:|=|reads)?\\s*(.{3,20})|(.{3,20})\\s+on (?:the|its) (?:clock|odo(?:meter)?)',
);
const NEW_PLAN = form(
  '(?:move|switch|change|put it|take it)?\\s*(?:it|this|the job)?\\s*(?:on)?(?:to|use)\\s+the (?:new|changed|current|latest) (?:version of the )?plan',
);
const OTHER_PLAN = form('wrong (?:plan|work)\\b[,;:.]?\\s*(.{3,80})');
const OTHER_VEHICLE = form('wrong (?:vehicle|bus|truck|coach|van|trailer)\\b[,;:.]?\\s*(.{2,80})');
const TAKE_OVER = form(
  `(?:ok\\s+)?(?:got (?:it|the handover|that)[, ]*)?(?:i(?:'m| am| have|'ve)?\\s+)?(?:taking|take|taken|took)\\s+(?:it\\s+|this\\s+|the job\\s+|job\\s+)?over(?:\\s+(?:from\\s+${NAME}|now|here|this job|the job))?|handover (?:taken|accepted|read|received)`,
);

const first = (found: RegExpExecArray | null): string | undefined =>
  found?.slice(1).find((part) => part !== undefined);

export const FORMS: readonly OrderForm[] = [
  {
    name: 'assign',
    yes: ['give 1042 to Mo', 'assign Mo', 'give it to Mo', 'put Mo on this job', 'technician Mo'],
    no: ['give it a go', 'give the bolts to the store', 'Mo is on it'],
    read: (text, known) => {
      const give = GIVE.exec(text);
      const put = give ? null : PUT_ON.exec(text);
      if (!give && !put) return undefined;
      const by = known.person((give ? give[2] : (put?.[1] ?? put?.[3] ?? put?.[4])) ?? '');
      const number = give ? give[1] : put?.[2];
      const job = jobIn(number, known);
      if (by === undefined || (number !== undefined && job === undefined)) return undefined;
      return { by, ...(job === undefined ? {} : { job }) };
    },
  },
  {
    name: 'controller',
    yes: ['controller Kim', 'change the controller to Kim'],
    no: ['controller fitted', 'ask the controller'],
    read: (text, known) => {
      const by = known.person(first(CONTROLLER.exec(text)) ?? '');
      return by === undefined ? undefined : { by };
    },
  },
  {
    name: 'promise',
    yes: [
      'promised friday 14:00',
      'promised for tomorrow noon',
      '1042 promised for 16:30',
      'not promised',
    ],
    no: ['promised myself a tea'],
    read: (text, known) => {
      if (NO_PROMISE.test(text)) return { note: '' };
      const found = PROMISE.exec(text);
      const words = found?.[2];
      if (
        words === undefined ||
        !/\d{1,2}[:.]\d\d|\d\s*[ap]m|noon|\d{4}-\d\d-\d\d|day\b|tomorrow|\b(?:mon|tue|wed|thu|fri|sat|sun)\b/iu.test(
          words,
        )
      )
        return undefined;
      const job = jobIn(found?.[1], known);
      return { note: words.trim(), ...(job === undefined ? {} : { job }) };
    },
  },
  {
    name: 'move-message',
    yes: [
      'that was for 1043',
      'wrong job, 1043',
      'move that to job 1043',
      'move the last 3 to 1043',
    ],
    no: ['that was for the filter', 'that is 1043 mm', 'move it to bay 3'],
    read: (text, known) => {
      const several = MOVE_SEVERAL.exec(text);
      const said = several ? withJob(several[2], known) : withJob(first(MOVE.exec(text)), known);
      return said && several ? { ...said, count: { done: Number(several[1]) } } : said;
    },
  },
  {
    name: 'merge-job',
    yes: ['merge into 1043', 'duplicate of job 1043'],
    no: ['merge the two pipes'],
    read: (text, known) => withJob(first(MERGE.exec(text)), known),
  },
  {
    name: 'reopen-job',
    yes: ['reopen job because it leaks', 'open the job again because it leaks', 'reopen'],
    no: ['open the cap', 'open job 1044 bus 3 coolant pump', 'open the drain tap again'],
    read: (text) =>
      REOPEN.test(text) &&
      (/^re-?open\b/iu.test(text) || /^open (?:the |this )?job again\b/iu.test(text))
        ? reasoned(text)
        : undefined,
  },
  {
    name: 'close-job',
    yes: ['close job at 412400 km', 'close the job, 412,400 km', 'close job without reading'],
    no: ['close the tap', 'close job', 'closed it up at 5 bar'],
    read: (text) => {
      const rest = CLOSE.exec(text)?.[1];
      if (rest === undefined) return undefined;
      if (NO_READING.test(rest)) return { note: WITHOUT_READING };
      const quantity = distanceSaid(rest);
      return quantity === undefined ? undefined : { quantity };
    },
  },
  {
    name: 'odometer',
    yes: ['odometer 412400 km', '412,400 km on the clock', 'hours 9120 h'],
    no: ['clock off', 'hours', 'reading 27 L'],
    read: (text, known) => {
      const words = first(ODOMETER.exec(text)) ?? (known.odometerAsked ? text : undefined);
      const quantity = words === undefined ? undefined : distanceSaid(words);
      if (quantity === undefined) return undefined;
      return words?.replace(/[\d ,.]/gu, '').length === 0 ? undefined : { quantity };
    },
  },
  {
    name: 'new-plan',
    yes: ['move to the new plan', 'use the new plan', 'change to the current plan'],
    no: ['new plan: tea first', 'what is the plan'],
    read: (text) => (NEW_PLAN.test(text) ? {} : undefined),
  },
  {
    name: 'other-plan',
    yes: ['wrong plan, should be hub bearing', 'wrong work: it is the clutch'],
    no: ['wrong planet', 'plan is wrong'],
    read: (text) => {
      const note = OTHER_PLAN.exec(text)?.[1];
      return note === undefined ? undefined : { note };
    },
  },
  {
    name: 'other-vehicle',
    yes: ['wrong vehicle, it is bus 18', 'wrong bus, should be bus 18'],
    no: ['wrong way round', 'bus 18 is wrong'],
    read: (text) => {
      const note = OTHER_VEHICLE.exec(text)?.[1];
      return note === undefined ? undefined : { note };
    },
  },
  {
    name: 'take-over',
    yes: ['taking over', "I'm taking over from Ada", 'handover accepted', 'got it, taking over'],
    no: ['take the cover off', 'turned it over', 'taking the pump over to the bench'],
    read: (text) => (TAKE_OVER.test(text) ? {} : undefined),
  },
];
