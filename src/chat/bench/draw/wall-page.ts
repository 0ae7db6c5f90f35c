// The wall sheet: no controls, read from five metres, live.
import type { BenchJob } from '../bench-view.ts';
import { progressWords, waitWords } from './bay.ts';
import { html, type Markup } from './html.ts';
import { LEVEL_WORD, raisedOn, whatWords } from './level.ts';
import { type Frame, promiseMarkup, timeWords } from './time-words.ts';

/** Jobs drawn in full; the page shows as many as fit and lets the others take turns. More are named by number. */
const SHOWN = 60;

export function wallBody(jobs: readonly BenchJob[], frame: Frame): Markup {
  return html`<main id="main"><header class="wall-head"><h1>${frame.workshop}</h1><p class="contact" id="contact" role="status">as of ${timeWords(frame.now, frame)}</p></header>${wallSheet(jobs, frame)}</main>`;
}

export function wallSheet(jobs: readonly BenchJob[], frame: Frame): Markup {
  const more = jobs.slice(SHOWN);
  return html`<div id="wall-sheet">${jobs.length === 0 ? html`<p class="wall-none">No job is open.</p>` : ''}<ol class="wall-list${jobs.length <= 3 ? ' few' : ''}">${jobs.slice(0, SHOWN).map((job) => wallRow(job, frame))}</ol>${
    more.length === 0
      ? ''
      : html`<p class="wall-more">Also open: ${more
          .slice(0, 12)
          .map(({ job }) => job)
          .join(', ')}${more.length > 12 ? ` and ${more.length - 12} more` : ''}</p>`
  }<p class="wall-sheets"></p></div>`;
}

function wallRow(job: BenchJob, frame: Frame): Markup {
  const flag = raisedOn([job])[0]?.flag;
  return html`<li class="wall-row" data-flags="${job.flags.map(({ key, level }) => `${level}:${job.job}|${key}`).join('\n')}"><div class="bay-no" aria-hidden="true">${job.job}</div><div class="wall-what"><h2>Job ${job.job}, ${job.vehicle}</h2>${flag === undefined ? '' : html`<p class="wall-flag ${flag.level}"><strong class="level">${LEVEL_WORD[flag.level]}</strong> <span>${whatWords(flag.says)}</span></p>`}${job.vehicleState.length === 0 ? '' : html`<p class="wall-state">${job.vehicleState.join('. ')}</p>`}<p class="wall-facts">${progressWords(job)}${job.technician === undefined ? '' : `, ${job.technician}`}.${job.waits.length === 0 ? '' : ` Waits for ${waitWords(job.waits, 1)}`}${job.promised === undefined ? '' : html` ${promiseMarkup(job.promised, frame)}.`}${job.forecast === undefined ? '' : ` Ready ${job.forecast}.`}</p></div></li>`;
}
