// A job: its thread with the next steps at the thumb, and its card.
import type { BenchJob } from '../bench-view.ts';
import type { Entry } from '../talk/entry.ts';
import { actsMarkup } from './act.ts';
import { bayMarkup, jobHref, needsMarkup, progressWords, statesMarkup, waitWords } from './bay.ts';
import { composerMarkup, nextDialog, nextMarkup } from './dock.ts';
import { flagsDialog, railMarkup } from './flag-rail.ts';
import { html, type Markup, type Piece } from './html.ts';
import { LEVEL_WORD, raisedOn } from './level.ts';
import { type Frame, promiseMarkup, promiseWords, timeWords } from './time-words.ts';
import { rollMarkup } from './yard-page.ts';

export type JobParts = {
  readonly job: BenchJob;
  readonly jobs: readonly BenchJob[];
  readonly entries: readonly Entry[];
  readonly hasEarlier: boolean;
  /** Put before what is sent where the job has no thread on the bench. */
  readonly prefix: string;
};

export function jobBody(parts: JobParts, frame: Frame): Markup {
  const { job } = parts;
  const raised = raisedOn([job]);
  const elsewhere = raisedOn(parts.jobs.filter((other) => other.job !== job.job)).filter(
    ({ flag }) => flag.level !== 'advice',
  ).length;
  return html`${railMarkup(raised, elsewhere, true)}
<main id="main" class="columns three">
<nav class="column list aside" aria-label="Open jobs"><ul class="bays" id="bays">${parts.jobs.map((other) => bayMarkup(other, frame, other.job === job.job))}</ul></nav>
<section class="column talk" aria-labelledby="job-title">
<div class="job-head"><span class="bay-no" aria-hidden="true">${job.job}</span><div><h1 id="job-title">Job ${job.job}, ${job.vehicle}</h1><p class="head-links">${SHEETS.map(([sheet, name]) => html`<a class="card-link ${sheet}-link" href="${jobHref(job.job)}/${sheet}">${name}</a> `)}${isLate(job, frame) ? html` ${promiseMarkup(job.promised, frame)}` : ''}</p></div></div>
${stateStrip(job)}
${rollMarkup(parts.entries, () => undefined, parts.hasEarlier ? `${jobHref(job.job)}?all=yes` : undefined, frame)}
<div class="dock">${nextMarkup(job, parts.prefix)}${parts.prefix === '' ? '' : html`<p class="small">This job has no thread here, so messages begin with its number.</p>`}${composerMarkup(frame, parts.prefix)}</div>
</section>
<div class="column card-column">${cardMarkup(job, frame)}</div>
</main>
${flagsDialog(raised, frame)}${nextDialog(job, parts.prefix)}`;
}

/** The sheets of a job that are printed. */
const SHEETS = [
  ['card', 'Job card'],
  ['tightening', 'Tightening'],
  ['handover', 'Handover'],
] as const;

const isLate = (job: BenchJob, frame: Frame): boolean =>
  promiseWords(job.promised, frame)?.isLate === true;

/** The vehicle's state above the thread; its place is kept, so that nothing moves when a state opens. */
export function stateStrip(job: BenchJob): Markup {
  const [first, ...more] = job.vehicleState;
  return html`<div class="state-strip${first === undefined ? ' quiet' : ''}" id="state"><p><span class="tag">Vehicle</span> ${first ?? 'no unsafe state recorded'}${more.length === 0 ? '' : `. ${more.join('. ')}`}</p></div>`;
}

/** The job card, as shown beside the thread and as printed. */
export function cardMarkup(job: BenchJob, frame: Frame): Markup {
  const promise = promiseWords(job.promised, frame);
  const facts: readonly (readonly [string, Piece])[] = [
    ['Plan', job.plan],
    ['Machine', job.machine],
    ['Complaint', job.complaint],
    ['Technician', job.technician],
    ['Controller', job.controller],
    ['Opened', timeWords(job.openedAt, frame)],
    [
      'Promised',
      job.promised === undefined
        ? undefined
        : promise?.isLate === true
          ? html`${timeWords(job.promised, frame)}, <strong class="late">${promise.words}</strong>`
          : timeWords(job.promised, frame),
    ],
    ['Ready', job.forecast],
    ['Done', progressWords(job)],
    ['Waits for', job.waits.length === 0 ? undefined : waitWords(job.waits, job.waits.length)],
  ];
  const phases = [...new Set(job.steps.map(({ phase }) => phase))];
  return html`<article class="slip job-card" id="card" aria-labelledby="card-title">
<div class="card-head"><p class="card-no">${job.job}</p><div><h2 id="card-title">Job card</h2><p class="card-vehicle">${job.vehicle}</p></div>${job.status === 'open' ? '' : html`<p class="stamp recorded">${job.status}</p>`}</div>
<h3>The vehicle now</h3>
${job.vehicleState.length === 0 ? html`<p>No unsafe state is recorded.</p>` : statesMarkup(job.vehicleState)}
<h3>Flags</h3>
${job.flags.length === 0 ? html`<p>None standing.</p>` : html`<ul class="card-flags">${raisedOn([job]).map(({ flag }) => html`<li class="flag ${flag.level}"><strong class="level">${LEVEL_WORD[flag.level]}</strong> ${flag.says} <span class="small">since ${timeWords(flag.since, frame)}</span></li>`)}</ul>`}
<h3>The job</h3>
<dl class="facts">${facts.map(([label, value]) => (value === undefined ? '' : html`<div><dt>${label}</dt><dd>${value}</dd></div>`))}</dl>
<div class="no-print">${needsMarkup(job)}${actsMarkup(job.actions, frame)}</div>
${phases.map(
  (phase) =>
    html`<section class="phase"><h3>${phase}</h3><ol class="steps">${job.steps
      .filter((step) => step.phase === phase)
      .map(
        (step) =>
          html`<li class="step"><p class="step-title">${step.title}${step.position === null ? '' : html`, <span class="position">${step.position}</span>`}</p><p class="step-state">${step.state}${step.at === null ? '' : `, ${timeWords(step.at, frame)}`}${step.by === null ? '' : `, ${step.by}`}</p>${step.figures.length === 0 ? '' : html`<p class="figures">${step.figures.join(', ')}</p>`}${step.assumed.length === 0 ? '' : html`<p class="small">assumed: ${step.assumed.join('; ')}</p>`}</li>`,
      )}</ol></section>`,
)}
<p class="small notice">${job.notice}</p>
</article>`;
}

/** The job card alone, for a phone and for paper. */
export function cardBodyPage(job: BenchJob, jobs: readonly BenchJob[], frame: Frame): Markup {
  const raised = raisedOn([job]);
  const elsewhere = raisedOn(jobs.filter((other) => other.job !== job.job)).length;
  return html`${railMarkup(raised, elsewhere, true)}<main id="main" class="single"><h1 class="hidden">Job ${job.job}, ${job.vehicle}</h1><p class="print-only">${frame.workshop}. Printed ${timeWords(frame.now, frame)}, ${frame.now.slice(0, 10)}.</p><p class="no-print back"><a class="act plain" href="${jobHref(job.job)}">Back to the thread</a> <button type="button" class="act plain" data-print>Print this card</button></p>${cardMarkup(job, frame)}</main>${flagsDialog(raised, frame)}`;
}
