// What a controller settles on one job without leaving the list: its flags, what it waits for, closing it.
import type { BenchJob } from '../bench-view.ts';
import { actsMarkup } from './act.ts';
import { needsMarkup, statesMarkup, waitWords } from './bay.ts';
import { flagList } from './flag-rail.ts';
import { html, type Markup } from './html.ts';
import { raisedOn } from './level.ts';
import type { Frame } from './time-words.ts';

export function deskSheet(job: BenchJob, frame: Frame): Markup {
  return html`<div class="desk-sheet"><h2>Job ${job.job}, ${job.vehicle}</h2>${statesMarkup(job.vehicleState)}${job.waits.length === 0 ? '' : html`<p class="waits"><span class="tag">Waits for</span> ${waitWords(job.waits, job.waits.length)}</p>`}${job.flags.length === 0 ? html`<p>No flags standing.</p>` : flagList(raisedOn([job]), frame)}${needsMarkup(job)}${actsMarkup(job.actions, frame)}<div class="acts"><button type="button" class="act plain" data-close>Back</button></div></div>`;
}
