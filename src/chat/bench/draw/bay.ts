// One open job in the yard: a bay painted on the floor with the job's slip lying in it.
import type { BenchJob } from '../bench-view.ts';
import { usable } from './act.ts';
import { html, type Markup } from './html.ts';
import { countWords, LEVEL_WORD, raisedOn, whatWords } from './level.ts';
import { type Frame, promiseMarkup } from './time-words.ts';

export const jobHref = (job: string): string => `/job/${encodeURIComponent(job)}`;

export function progressWords(job: BenchJob): string {
  const phase = job.phase === null ? '' : `, now: ${job.phase}`;
  return `${job.progress.done} of ${job.progress.total} steps done${phase}`;
}

/** The first things a job waits for, each closed by its own stop after the words "Waits for", and how many more: the job card has them all. */
export function waitWords(waits: readonly string[], shown: number): string {
  const more = waits.length - shown;
  const said = waits.slice(0, shown).map((wait) => (/[.?]$/u.test(wait) ? wait : `${wait}.`));
  if (more > 0) said.push(`${more} more ${more === 1 ? 'thing' : 'things'} too.`);
  return said
    .map((wait, at) => (at === 0 ? wait : `${wait.charAt(0).toUpperCase()}${wait.slice(1)}`))
    .join(' ');
}

/** The worst flag of a job in one line; the line is there when nothing stands too. */
function flagLine(job: BenchJob): Markup {
  const first = raisedOn([job])[0]?.flag;
  if (first === undefined) return html`<p class="bay-flag quiet">No flags</p>`;
  const more = job.flags.length - 1;
  return html`<p class="bay-flag ${first.level}"><strong class="level">${LEVEL_WORD[first.level]}</strong> <span class="bay-says">${whatWords(first.says, 64)}</span>${more > 0 ? html` <span class="small">and ${more} more</span>` : ''}</p>`;
}

/** A bay of the yard's list. */
export function bayMarkup(job: BenchJob, frame: Frame, isHere = false): Markup {
  return html`<li class="bay" id="bay-${job.job}"${isHere ? html` aria-current="true"` : ''}><div class="bay-no" aria-hidden="true">${job.job}</div><article class="slip">
<h2 class="bay-title"><a href="${jobHref(job.job)}">Job ${job.job}, ${job.vehicle}</a></h2>
${flagLine(job)}
${statesMarkup(job.vehicleState)}
${job.waits.length === 0 ? '' : html`<p class="waits"><span class="tag">Waits for</span> ${waitWords(job.waits, 2)}</p>`}
<p class="small">${job.plan}. ${progressWords(job)}.${job.technician === undefined ? '' : ` ${job.technician}.`}${job.promised === undefined ? '' : html` ${promiseMarkup(job.promised, frame)}.`}${job.forecast === undefined ? '' : ` Ready ${job.forecast}.`}</p>
${isHere ? '' : deskButton(job, frame)}</article></li>`;
}

/** Things named that stand between a job and its closing. */
const NEEDS_NAMED = 8;

/** What is still open before a job can be closed; nothing where it can be. */
export function needsMarkup({ closeNeeds = [] }: BenchJob): Markup {
  if (closeNeeds.length === 0) return html``;
  const more = closeNeeds.length - NEEDS_NAMED;
  return html`<h3>Before it can be closed</h3><ul class="plain-list needs">${closeNeeds.slice(0, NEEDS_NAMED).map((need) => html`<li>${need}</li>`)}${more > 0 ? html`<li>and ${more} more</li>` : ''}</ul>`;
}

/** Opens the sheet of what can be settled on a job; left out where nothing can by this person. */
function deskButton(job: BenchJob, frame: Frame): Markup {
  const hasAny =
    frame.who !== undefined &&
    usable([...job.actions, ...job.flags.flatMap(({ actions }) => actions)], frame).length > 0;
  return hasAny
    ? html`<div class="acts"><button type="button" class="act plain" data-desk="${job.job}" aria-label="Settle or close: job ${job.job}">Settle or close</button></div>`
    : html``;
}

/** What is true of the vehicle now that makes something unsafe, in words behind a hatched edge. */
export function statesMarkup(states: readonly string[]): Markup {
  if (states.length === 0) return html``;
  return html`<ul class="states">${states.map((state) => html`<li>${state}</li>`)}</ul>`;
}

/** A job's flags as a short count, for lists read from afar. */
export const flagCount = (job: BenchJob): string => countWords(job.flags) ?? 'no flags';
