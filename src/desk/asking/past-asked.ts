// Hours of people, how a week went, what was done on a vehicle before: questions about what is over.
import { type Asked, type AskedKnown, type Span, VEHICLE, vehicleSaid } from './asked.ts';

const SPANS: readonly (readonly [Span, RegExp])[] = [
  ['last-week', /\b(?:last week|the week before|letzte woche)\b/u],
  ['this-week', /\b(?:this week|so far this week|the week|diese woche)\b/u],
  ['yesterday', /\b(?:yesterday|gestern)\b/u],
  ['today', /\b(?:today|so far|heute)\b/u],
];

const HOURS =
  /^(?:(?:show|list|what are|how many|all)\s+)?(?:(?:the|my|our|[\p{L}-]+'s?|[\p{L}-]+s)\s+)?(?:hours|stunden|time)(?:\s+(?:booked|worked|done|did|has|have|put in))*(?:\s+(?:of|for|by|did|has|have)\s+[\p{L}-]+)?(?:\s+(?:book(?:ed)?|work(?:ed)?|do|done))*(?:\s+(?:on|in|for|so far))?(?:\s+(?:this week|last week|today|yesterday|the week|so far|so far this week|diese woche|letzte woche|heute|gestern))?(?:\s+(?:of|for|by)\s+[\p{L}-]+)?$/u;

/** "hours this week", "Nell's hours", "my hours today"; a bare "hours" only where no job is meant. */
export const hoursAsked = (plain: string, known: AskedKnown): Asked | undefined => {
  const who = /^who (?:booked|worked|did) what(?: (this week|last week|today|yesterday))?$/u.exec(
    plain,
  );
  if (!who && !HOURS.test(plain)) return undefined;
  const said = SPANS.find(([, pattern]) => pattern.test(plain))?.[0];
  let person: string | undefined = /\bmy\b|\bdid i\b|\bhave i\b/u.test(plain)
    ? known.asker
    : undefined;
  for (const [word] of plain.matchAll(/[\p{L}-]+(?:'s|s')?/gu))
    person ??= known.person(word) ?? known.person(word.replace(/(?:'s|s'|s)$/u, ''));
  const owned = /^(?:(?:show|list)\s+)?([\p{L}-]+)(?:'s|s)\s+(?:hours|stunden|time)/u.exec(plain);
  if (owned && person === undefined) return undefined;
  if (/\btime\b/u.test(plain) && person === undefined) return undefined;
  if (known.inJob && person === undefined && (said === undefined || said === 'today'))
    return undefined;
  return {
    ask: 'hours',
    span: said ?? (person === undefined ? 'today' : 'this-week'),
    ...(person === undefined ? {} : { person }),
  };
};

const WEEK =
  /^(?:how (?:did|was|is) (?:we do )?(?:the )?(?:last|this) week(?: go(?:ing|ne)?| been| looking)?|how (?:did|are) we (?:do|doing) (?:last|this) week|(?:what happened|what did we do|show(?: me)?|summary(?: of)?|report(?: for)?|digest(?: of)?) (?:in |for )?(?:last|this) week|(?:last|this) week(?:'s)?(?: summary| report| jobs| digest)?|how was the week|week(?:ly)? (?:summary|report|note|digest)|letzte woche|wie war die woche|wie lief die letzte woche)$/u;

export const weekAsked = (plain: string): Asked | undefined =>
  WEEK.test(plain)
    ? {
        ask: 'week',
        span: /\b(?:this week|is|are)\b/u.test(plain) ? 'this-week' : 'last-week',
      }
    : undefined;

const WORK = "((?:[\\p{L}\\d'-]+\\s*){1,5}?)";
const HISTORY: readonly RegExp[] = [
  new RegExp(
    `^when (?:did (?:we|you|anybody|somebody|they) last|was the last time we) (?:do|did|change|changed|renew|renewed|fit|fitted|replace|replaced|repair|repaired|have|had|work on|worked on|touch|look at)\\s+(?:the\\s+|a\\s+)?${WORK}\\s+(?:on|of|in)\\s+(?<vehicle>${VEHICLE})$`,
    'u',
  ),
  new RegExp(
    `^when (?:was|were) (?:the\\s+)?${WORK}\\s+(?:on|of|in)\\s+(?<vehicle>${VEHICLE})\\s+(?:last\\s+)?(?:done|changed|renewed|fitted|replaced|repaired|out)(?:\\s+last)?$`,
    'u',
  ),
  new RegExp(
    `^when (?:was|were) (?:the\\s+)?${WORK}\\s+(?:last\\s+)?(?:done|changed|renewed|fitted|replaced|repaired|out)(?:\\s+last)?\\s+(?:on|of|in)\\s+(?<vehicle>${VEHICLE})$`,
    'u',
  ),
  new RegExp(
    `^(?:what was the |show (?:me )?the )?last ${WORK} job\\s+(?:on|of|for)\\s+(?<vehicle>${VEHICLE})$`,
    'u',
  ),
  new RegExp(
    `^(?:have we|did we) (?:done|do|had|changed?|renewed?) (?:the\\s+)?${WORK}\\s+on\\s+(?<vehicle>${VEHICLE})(?: before| already)?$`,
    'u',
  ),
];
const LAST = new RegExp(
  `^(?:(?:what was |what's |show (?:me )?)?(?:the )?last (?:job|time|work|visit)(?: we did)?\\s+(?:on|of|for)\\s+(?<vehicle>${VEHICLE})|when (?:was|did)\\s+(?:we last (?:have|see|had)\\s+)?(?<own>${VEHICLE})(?:\\s+(?:last\\s+)?(?:in|here))?(?:\\s+last)?|what did we (?:last do|do last)\\s+(?:on|to)\\s+(?<third>${VEHICLE}))$`,
  'u',
);
const ALL = new RegExp(
  `^(?:(?:show (?:me )?)?(?:the )?(?:job )?history(?:\\s+(?:of|for|on))?\\s+(?<vehicle>${VEHICLE})|what (?:has|did)\\s+(?<own>${VEHICLE})\\s+(?:had done|have done)(?: before)?|what (?:have we|did we|has been|was) (?:done|do) (?:on|to)\\s+(?<third>${VEHICLE})(?: before)?|(?:earlier|previous|past) jobs\\s+(?:on|for|of)\\s+(?<fourth>${VEHICLE})|(?<fifth>${VEHICLE}) history|has\\s+(?<sixth>${VEHICLE})\\s+been in before)$`,
  'u',
);
const OWN_LAST =
  /^(?:when did we last (?:do|change|renew|have) (?<work>(?:[\p{L}\d'-]+\s*){1,4}?) on (?:this|it|this one|this (?:bus|coach|truck|vehicle))|(?:what was the )?last (?:job|time)(?: on (?:this|it|this one|this (?:bus|coach|truck|vehicle)))?|when was (?:this|it|this one) (?:last in|in last)|what did the last (?:job|one) find)$/u;

const groupOf = (match: RegExpExecArray): string | undefined =>
  Object.values(match.groups ?? {}).find((group) => group !== undefined);

const workOf = (words: string | undefined): { readonly work?: string } => {
  const work = words?.replace(/^(?:the|a|an)\s+/u, '').trim();
  return work ? { work } : {};
};

export const historyAsked = (plain: string, known: AskedKnown): Asked | undefined => {
  for (const pattern of HISTORY) {
    const match = pattern.exec(plain);
    const vehicle = match?.groups?.vehicle;
    if (vehicle)
      return {
        ask: 'history',
        vehicle: vehicleSaid(vehicle),
        lastOnly: true,
        ...workOf(match?.[1]),
      };
  }
  const last = LAST.exec(plain);
  const all = last ? null : ALL.exec(plain);
  const vehicle = last ? groupOf(last) : all ? groupOf(all) : undefined;
  if (vehicle !== undefined && !known.jobs.includes(vehicle))
    return { ask: 'history', vehicle: vehicleSaid(vehicle), lastOnly: last !== null };
  const own = known.inJob ? OWN_LAST.exec(plain) : null;
  if (own && known.inJob)
    return {
      ask: 'history',
      vehicle: known.inJob.vehicle,
      lastOnly: true,
      ...workOf(own.groups?.work),
    };
  return undefined;
};

const NOTE =
  /^(?:shift note|the shift note|shift notes|show (?:me )?the shift note|schichtnotiz|schichtübergabe)$/u;

/** "shift note": what the workshop hands on, asked for outside a job. */
export const noteAsked = (plain: string, known: AskedKnown): Asked | undefined =>
  !known.inJob && NOTE.test(plain) ? { ask: 'note' } : undefined;
