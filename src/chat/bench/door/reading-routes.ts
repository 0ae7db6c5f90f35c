// What can be read: the pages, their parts when something changed, live news, files.
import type { ServerResponse } from 'node:http';
import type { BenchJob } from '../bench-view.ts';
import { bayMarkup } from '../draw/bay.ts';
import { deskSheet } from '../draw/desk-sheet.ts';
import { nextDialog, nextMarkup } from '../draw/dock.ts';
import { flagsDialog, railMarkup } from '../draw/flag-rail.ts';
import { html, type Piece } from '../draw/html.ts';
import { cardBodyPage, cardMarkup, jobBody, stateStrip } from '../draw/job-page.ts';
import { raisedOn } from '../draw/level.ts';
import { noteBody, openBody, plansBody } from '../draw/other-pages.ts';
import { type PageParts, pageMarkup } from '../draw/page.ts';
import { enterBody, ownPassBody, peopleBody } from '../draw/pass-pages.ts';
import { handoverBody, tighteningBody } from '../draw/print-pages.ts';
import type { Frame } from '../draw/time-words.ts';
import { wallBody, wallSheet } from '../draw/wall-page.ts';
import { rollLine, yardBody } from '../draw/yard-page.ts';
import { isRefusal, type Refusal, refusal } from '../refusal.ts';
import type { Entry } from '../talk/entry.ts';
import type { Roll } from '../talk/roll.ts';
import { type BenchParts, isSeenBy, type Looking, withMay } from './bench-parts.ts';
import type { Drawn, News } from './live.ts';
import { controllerRefusal } from './pass-routes.ts';
import { type Answer, send } from './send.ts';

/** Lines of a thread that a page opens with; the earlier ones are asked for. */
const SHOWN = 150;

type Page = Omit<PageParts, 'since' | 'contact'>;

const text = (
  parts: BenchParts,
  frame: Frame,
  page: Page,
  since: string,
  status = 200,
): Answer => ({
  status,
  type: 'text/html; charset=utf-8',
  body: pageMarkup({ ...page, since, contact: parts.contacts.tell(frame.now) }, frame),
});

/** A page that says what is not there, or what went wrong, and what to do. */
export function notePage(
  parts: BenchParts,
  frame: Frame,
  { status, what, doThis }: Refusal,
): Answer {
  return text(
    parts,
    frame,
    { title: what, kind: 'note', body: noteBody(what, doThis) },
    parts.live.since(),
    status,
  );
}

/** The page at an address, or why there is none. */
export async function pageAt(
  parts: BenchParts,
  url: URL,
  frame: Looking,
): Promise<Answer | Refusal> {
  const { view } = parts.options;
  // Taken before anything is read: what changes meanwhile is told to the page again.
  const since = parts.live.since();
  const whole = url.searchParams.get('all') === 'yes';
  const draw = (page: Page) => text(parts, frame, page, since);
  if (url.pathname === '/') {
    const jobs = await parts.jobs();
    await Promise.all(jobs.map(({ job }) => parts.threads.threadOf(job)));
    const { entries, hasEarlier } = shownOf(parts, parts.conversation.yard, frame, whole);
    const { jobOfRoot } = parts.threads;
    const body = yardBody({ jobs, entries, hasEarlier, jobOfRoot }, frame);
    return draw({ title: 'The yard', kind: 'yard', body });
  }
  if (url.pathname === '/wall') {
    return draw({ title: 'Wall sheet', kind: 'wall', body: wallBody(await parts.jobs(), frame) });
  }
  if (url.pathname === '/open') {
    return draw({ title: 'Open a job', kind: 'open', body: openBody(await view.openJobForm()) });
  }
  if (url.pathname === '/plans' && frame.hasPlans) {
    return draw({ title: 'Write a plan', kind: 'plans', body: plansBody(parts.options, frame) });
  }
  const passPage = await passPageAt(parts, url.pathname, frame);
  if (passPage !== undefined) return isRefusal(passPage) ? passPage : draw(passPage);
  const [, place, name, sheet] = url.pathname.split('/');
  if (place === 'job' && name !== undefined && JOB_SHEETS.has(sheet ?? '')) {
    const asked = await jobNamed(parts, name);
    if (isRefusal(asked)) return asked;
    const printed = await printedSheet(parts, asked, sheet, frame);
    if (printed !== undefined) return draw(printed);
    if (sheet === 'card') {
      const body = cardBodyPage(asked, await parts.jobs(), frame);
      return draw({ title: `Job card ${asked.job}`, kind: 'card', job: asked.job, body });
    }
    const thread = await parts.threads.threadOf(asked.job);
    const roll = thread === undefined ? undefined : await parts.conversation.thread(thread);
    const { entries, hasEarlier } = shownOf(parts, roll, frame, whole);
    const prefix = roll === undefined ? `Job ${asked.job}: ` : '';
    const body = jobBody(
      { job: asked, jobs: await parts.jobs(), entries, hasEarlier, prefix },
      frame,
    );
    const title = `Job ${asked.job}, ${asked.vehicle}`;
    return draw({
      title,
      kind: 'job',
      job: asked.job,
      ...(thread === undefined ? {} : { thread }),
      body,
    });
  }
  return refusal(
    404,
    'There is no such page on the bench.',
    'Go to the yard and open it from there.',
  );
}

const JOB_SHEETS: ReadonlySet<string> = new Set(['', 'card', 'tightening', 'handover']);

/** The sheets that are there for paper alone. */
async function printedSheet(
  { options: { view } }: BenchParts,
  job: BenchJob,
  sheet: string | undefined,
  frame: Frame,
): Promise<Page | undefined> {
  if (sheet === 'tightening') {
    const stages = (await view.tightening?.(job.job)) ?? [];
    const body = tighteningBody(job, stages, frame);
    return { title: `Tightening sheet ${job.job}`, kind: 'paper', job: job.job, body };
  }
  if (sheet === 'handover') {
    const card = (await view.handover?.(job.job)) ?? { text: '', blocks: [] };
    const body = handoverBody(job, card, frame);
    return { title: `Handover ${job.job}`, kind: 'paper', job: job.job, body };
  }
  return undefined;
}

/** The pages about coming in; there are none on this machine alone. */
async function passPageAt(
  { door, options }: BenchParts,
  pathname: string,
  frame: Looking,
): Promise<Page | Refusal | undefined> {
  if (door === undefined) return undefined;
  if (pathname === '/enter') return { title: 'Come in', kind: 'enter', body: enterBody(frame) };
  if (pathname === '/people') {
    const refused = controllerRefusal(frame);
    if (refused !== undefined) return refused;
    const { people } = await options.view.workshop();
    const withCode = await door.passes.ownCodes(people.map(({ name }) => name));
    const passes = await door.passes.list(frame.now);
    const hasOwnCode = (person: string) => withCode.has(person);
    const body = peopleBody({ passes, people, hasOwnCode }, frame);
    return { title: 'Who comes in', kind: 'people', body };
  }
  if (pathname === '/pass' && frame.pass !== undefined) {
    const { name } = frame.pass;
    const hasOwnCode = (await door.passes.ownCodes([name])).has(name);
    const body = ownPassBody(frame.pass, hasOwnCode, frame);
    return { title: 'My pass', kind: 'pass', body };
  }
  return undefined;
}

async function jobNamed(parts: BenchParts, name: string): Promise<BenchJob | Refusal> {
  let job: string | undefined;
  try {
    job = decodeURIComponent(name).slice(0, 80);
  } catch {
    job = undefined;
  }
  const found = job === undefined ? undefined : await parts.options.view.job(job);
  return (
    found ??
    refusal(
      404,
      `There is no job ${job ?? 'of that number'} here.`,
      'Look for its number in the yard, or open it.',
    )
  );
}

function shownOf(
  parts: BenchParts,
  roll: Roll | undefined,
  frame: Frame,
  whole: boolean,
): { readonly entries: readonly Entry[]; readonly hasEarlier: boolean } {
  const all = (roll?.entries() ?? []).filter((entry) => isSeenBy(entry, frame, parts.arrivals));
  return whole
    ? { entries: all, hasEarlier: false }
    : { entries: all.slice(-SHOWN), hasEarlier: all.length > SHOWN };
}

/** The parts of a page that a changed job touches, as markup by the id of what they replace. */
export async function partsAt(
  parts: BenchParts,
  url: URL,
  frame: Frame,
): Promise<Answer | Refusal> {
  const kind = url.searchParams.get('page') ?? 'yard';
  const changed = url.searchParams.get('changed') ?? undefined;
  const here = url.searchParams.get('job') ?? undefined;
  const jobs = await parts.jobs();
  const pieces: Record<string, string> = {};
  const put = (id: string, piece: Piece) => {
    pieces[id] = html`${piece}`.markup;
  };
  if (kind === 'desk' && here !== undefined) {
    const job = await jobNamed(parts, encodeURIComponent(here));
    if (isRefusal(job)) return job;
    put('desk', deskSheet(job, frame));
  } else if (kind === 'wall') {
    put('wall-sheet', wallSheet(jobs, frame));
  } else if (here === undefined) {
    const raised = raisedOn(jobs);
    put('rail', railMarkup(raised, 0, false));
    put('flags', flagsDialog(raised, frame));
  } else {
    const job = await jobNamed(parts, encodeURIComponent(here));
    if (isRefusal(job)) return job;
    const prefix = (await parts.threads.threadOf(job.job)) === undefined ? `Job ${job.job}: ` : '';
    const raised = raisedOn([job]);
    const elsewhere = raisedOn(jobs.filter((other) => other.job !== here)).filter(
      ({ flag }) => flag.level !== 'advice',
    ).length;
    put('rail', railMarkup(raised, elsewhere, true));
    put('flags', flagsDialog(raised, frame));
    put('state', stateStrip(job));
    put('nexts', nextMarkup(job, prefix));
    put('all-next', nextDialog(job, prefix));
    put('card', cardMarkup(job, frame));
  }
  const bay = jobs.find(({ job }) => job === changed);
  const order = jobs.map(({ job }) => job);
  return {
    type: 'application/json; charset=utf-8',
    body: JSON.stringify({
      parts: pieces,
      flags: raisedOn(jobs).map(({ flag, job }) => ({
        key: `${job}|${flag.key}`,
        level: flag.level,
        says: flag.says,
        job,
      })),
      ...(changed === undefined
        ? {}
        : { bay: bay === undefined ? null : bayMarkup(bay, frame, bay.job === here).markup }),
      order,
      thread: here === undefined ? null : ((await parts.threads.threadOf(here)) ?? null),
      contact: parts.contacts.tell(frame.now),
    }),
  };
}

/** How a piece of news is sent to one page: lines of its own thread, and every changed job. */
export function newsFor(
  parts: BenchParts,
  frameNow: () => Promise<Looking>,
  thread: string | null,
): (news: News) => Promise<Drawn | undefined> {
  return async (news) => {
    if (news.kind === 'entry' && news.thread !== thread) return undefined;
    const looking = await frameNow();
    if (parts.door !== undefined && looking.pass === undefined) return undefined;
    if (news.kind === 'job') return { event: 'job', data: { job: news.job } };
    const entry = (await parts.conversation.rollAt(thread))?.entry(news.id);
    if (entry === undefined || !isSeenBy(entry, looking, parts.arrivals)) return undefined;
    const hasButtons = (entry.card?.actions?.length ?? 0) > 0;
    const frame = hasButtons ? withMay(looking, parts, await parts.jobs()) : looking;
    const job = thread === null ? parts.threads.jobOfRoot(entry.id) : undefined;
    return { event: 'entry', data: { id: entry.id, html: rollLine(entry, job, frame).markup } };
  };
}

/** A photo; opened by itself it can run nothing. */
export async function sendPhoto(
  parts: BenchParts,
  response: ServerResponse,
  url: URL,
): Promise<Refusal | undefined> {
  const name = url.pathname.split('/')[2] ?? '';
  const about = await parts.photos.about(name);
  const body = about === undefined ? undefined : await parts.photos.read(name);
  if (about === undefined || body === undefined)
    return refusal(404, 'This picture is not on the bench.', 'Reload the page.');
  send(response, {
    type: about.type,
    body,
    headers: {
      'content-security-policy': "default-src 'none'; style-src 'unsafe-inline'; sandbox",
      'cache-control': 'private, max-age=86400',
    },
  });
  return undefined;
}
