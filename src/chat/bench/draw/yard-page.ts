// The yard: every open job in one list, and the common talk.
import type { BenchJob } from '../bench-view.ts';
import type { Entry } from '../talk/entry.ts';
import { bayMarkup, jobHref } from './bay.ts';
import { composerMarkup } from './dock.ts';
import { entryMarkup } from './entry-line.ts';
import { flagsDialog, railMarkup } from './flag-rail.ts';
import { html, type Markup } from './html.ts';
import { raisedOn } from './level.ts';
import { type Frame, timeMark } from './time-words.ts';

export type YardParts = {
  readonly jobs: readonly BenchJob[];
  readonly entries: readonly Entry[];
  /** The job whose thread hangs from an entry, so that the entry is drawn as one line. */
  readonly jobOfRoot: (entry: string) => string | undefined;
  readonly hasEarlier: boolean;
};

export function yardBody(parts: YardParts, frame: Frame): Markup {
  const raised = raisedOn(parts.jobs);
  return html`${railMarkup(raised, 0, false)}
<main id="main" class="columns two">
<section class="column list" aria-labelledby="jobs-title">
<div class="list-head"><h1 id="jobs-title">Open jobs</h1><a class="act plain" href="/open">Open a job</a></div>
${parts.jobs.length === 0 ? greeting(frame) : ''}
<ul class="bays" id="bays">${parts.jobs.map((job) => bayMarkup(job, frame))}</ul>
<nav class="more-pages" aria-label="Other sheets"><a href="/wall">Wall sheet</a>${frame.hasPlans ? html`<a href="/plans">Write a plan</a>` : ''}${frame.hasPasses === true && frame.proved === true && frame.roles?.includes('controller') === true ? html`<a href="/people">Who comes in</a>` : ''}${frame.hasPasses === true ? html`<a href="/pass">${frame.tablet === undefined ? 'My pass' : frame.tablet}</a>` : ''}</nav>
</section>
<section class="column talk" aria-labelledby="talk-title">
<h2 id="talk-title" class="roll-title">Said in the yard</h2>
${rollMarkup(parts.entries, parts.jobOfRoot, parts.hasEarlier ? '/?all=yes' : undefined, frame)}
<div class="dock">${composerMarkup(frame, '')}</div>
</section>
</main>
${flagsDialog(raised, frame)}`;
}

/** The lines of a thread or of the yard. A job's first card is one line in the yard, since its thread has it. */
export function rollMarkup(
  entries: readonly Entry[],
  jobOfRoot: (entry: string) => string | undefined,
  earlier: string | undefined,
  frame: Frame,
): Markup {
  return html`<div class="roll-paper">${earlier === undefined ? '' : html`<a class="act plain earlier" href="${earlier}">Show what was said before</a>`}<ol class="roll" id="roll" aria-label="Messages">${entries.map((entry) => rollLine(entry, jobOfRoot(entry.id), frame))}</ol>${entries.length === 0 ? html`<p class="roll-empty">Nothing is said here yet.</p>` : ''}</div>`;
}

export function rollLine(entry: Entry, job: string | undefined, frame: Frame): Markup {
  if (job === undefined) return entryMarkup(entry, frame);
  return html`<li class="line opened" id="e-${entry.id}"><div class="at">${timeMark(entry.at, frame)}</div><p><a href="${jobHref(job)}">Job ${job} opened</a>: its own thread has the rest.</p></li>`;
}

function greeting(frame: Frame): Markup {
  return html`<section class="slip greeting" aria-labelledby="greet"><h2 id="greet">The yard is empty</h2><p>Three things to do first, each in one tap:</p><ul class="greet-list">
<li><a class="act main" href="/open">Open a first job</a><p class="small">A number, a vehicle and a plan; the rest can come later.</p></li>
${frame.hasDemo ? html`<li><button type="button" class="act plain" data-demo>Load the demonstration</button><p class="small">An invented depot with invented machines, to try things on.</p></li>` : ''}
${frame.hasPlans ? html`<li><a class="act plain" href="/plans">Write a plan</a><p class="small">In plain words, checked as you type.</p></li>` : ''}
</ul></section>`;
}
