// The rail at the top of every page: its height is kept whether flags stand or not, so nothing moves when one arrives.
import { actsMarkup } from './act.ts';
import { html, type Markup } from './html.ts';
import { countWords, LEVEL_WORD, type Raised, whatWords } from './level.ts';
import { type Frame, timeWords } from './time-words.ts';

/** The rail. On a job's page `elsewhere` counts the flags of the other jobs. */
export function railMarkup(
  raised: readonly Raised[],
  elsewhere: number,
  isJobPage: boolean,
): Markup {
  const first = raised[0];
  const others =
    elsewhere === 0 ? '' : html`<a class="rail-else" href="/">${elsewhere} on other jobs</a>`;
  if (first === undefined) {
    return html`<section class="rail quiet" id="rail" tabindex="-1" aria-label="Flags"><p class="rail-face"><span class="rail-count">No flags standing${isJobPage ? ' on this job' : ''}</span></p>${others}</section>`;
  }
  const words = countWords(raised.map(({ flag }) => flag)) ?? '';
  return html`<section class="rail ${first.flag.level}" id="rail" tabindex="-1" aria-label="Flags"><button type="button" class="rail-face" data-open="flags"><span class="rail-count">${words}</span><span class="rail-text">${isJobPage ? '' : `Job ${first.job}: `}${whatWords(first.flag.says)}</span></button>${others}</section>`;
}

/** Every flag in full with what can be done about it, opened from the rail. */
export function flagsDialog(raised: readonly Raised[], frame: Frame): Markup {
  return html`<dialog class="sheet" id="flags" aria-labelledby="flags-title"><h2 id="flags-title">Flags standing</h2>${flagList(raised, frame)}<div class="acts"><button type="button" class="act plain" data-close>Back</button></div></dialog>`;
}

/** Each flag in full: what, where, what to do, and what can be tapped. */
export function flagList(raised: readonly Raised[], frame: Frame): Markup {
  return html`<div class="flag-list">${raised.map(
    ({
      flag,
      job,
    }) => html`<article class="slip flag ${flag.level}" data-flag="${job}|${flag.key}" data-level="${flag.level}">
<h3><span class="level">${LEVEL_WORD[flag.level]}</span> <a href="/job/${encodeURIComponent(job)}">Job ${job}</a></h3>
<p class="text says">${flag.says}</p>
<p class="small">since ${timeWords(flag.since, frame)}${flag.acknowledgedBy === undefined ? '' : `, seen by ${flag.acknowledgedBy}`}</p>
${actsMarkup(flag.actions, frame)}</article>`,
  )}${raised.length === 0 ? html`<p>None now.</p>` : ''}</div>`;
}
