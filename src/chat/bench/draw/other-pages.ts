// The form that opens a job, the plan desk, and the page that answers what is not there.
import type { Form } from '../../../desk/card.ts';
import type { BenchOptions, PlanComplaint } from '../bench-options.ts';
import type { BenchPlanTrial } from '../bench-view.ts';
import { formMarkup } from './form.ts';
import { html, type Markup } from './html.ts';
import type { Frame } from './time-words.ts';

export function openBody(form: Form): Markup {
  return html`<main id="main" class="single"><div class="slip">${formMarkup(form, { do: 'open-job' }, undefined, true)}</div></main>`;
}

/** The plan desk: written on the left, complaints beside it, tried below, and saved by a controller. */
export function plansBody({ planDesk }: Pick<BenchOptions, 'planDesk'>, frame: Frame): Markup {
  const samples = planDesk?.samples() ?? [];
  const begin =
    samples.length === 0
      ? ''
      : html`<label for="plan-sample">Begin with</label><select id="plan-sample">${samples.map(({ plan, title }) => html`<option value="${plan}">${title}</option>`)}</select>`;
  const first = samples[0] === undefined ? '' : (planDesk?.textOf(samples[0].plan) ?? '');
  const maySave = planDesk !== undefined && frame.roles?.includes('controller') === true;
  const saving = maySave
    ? html`<div class="acts"><button type="button" class="act main" id="plan-save">Save the plan</button></div>`
    : html`<p class="small">A controller saves it here; choose who is posting.</p>`;
  const trial =
    planDesk === undefined
      ? ''
      : html`<section class="slip" aria-labelledby="try-title"><h2 id="try-title">Try it</h2><label for="plan-try">Messages, one a line, as a technician would type them</label><textarea id="plan-try" rows="4" spellcheck="false"></textarea><div class="acts"><button type="button" class="act plain" id="plan-try-go">Try them</button></div><div id="plan-tried" role="status"></div></section>`;
  return html`<main id="main" class="plans-main"><h1 class="page-title">Write a plan</h1><div class="plan-columns"><div class="slip">${begin}<label for="plan-text">The plan, in YAML</label><p class="hint" id="plan-hint">Checked while you type.</p><div class="plan-editor"><div class="plan-lines" id="plan-lines" aria-hidden="true"></div><textarea id="plan-text" class="plan-text" rows="24" wrap="off" spellcheck="false" autocapitalize="off" aria-describedby="plan-hint">${first === '' ? '' : `\n${first}`}</textarea></div>${planDesk === undefined ? html`<p class="small">Nothing is saved here: copy the text into a file in the plans folder.</p>` : saving}<p class="form-says" id="plan-says" role="status"></p></div><div class="plan-beside"><section class="slip" aria-labelledby="complaints-title"><h2 id="complaints-title">Complaints</h2><div id="complaints" role="status"><p>Write or paste a plan.</p></div></section>${trial}</div></div></main>`;
}

/** What came of a trial, line by line. */
export function trialMarkup(tried: readonly BenchPlanTrial[]): Markup {
  if (tried.length === 0) {
    return html`<p>Nothing was tried: the plan has complaints, or no message was typed.</p>`;
  }
  return html`<ol class="tried">${tried.map(
    ({ said, read, answers }) =>
      html`<li><p class="tried-said">${said}</p>${read.length === 0 ? html`<p class="small">Nothing would be recorded.</p>` : html`<ul class="plain-list">${read.map((each) => html`<li>${each}</li>`)}</ul>`}${answers.map((answer) => html`<p class="tried-answer">${answer}</p>`)}</li>`,
  )}</ol>`;
}

export function complaintsMarkup(complaints: readonly PlanComplaint[]): Markup {
  if (complaints.length === 0) return html`<p>No complaints.</p>`;
  return html`<p>${complaints.length === 1 ? '1 complaint' : `${complaints.length} complaints`}</p><ol class="complaints">${complaints
    .slice(0, 200)
    .map(
      (complaint) =>
        html`<li><button type="button" class="act plain line-no" data-line="${complaint.line}">Line ${complaint.line}</button><p class="text">${complaint.level === 'warning' ? 'Warning: ' : ''}${complaint.what}</p>${complaint.expected === undefined || complaint.expected === '' ? '' : html`<p>Expected: ${complaint.expected}</p>`}<p>${complaint.mend}</p></li>`,
    )}</ol>`;
}

export function noteBody(what: string, doThis: string): Markup {
  return html`<main id="main" class="single"><div class="slip"><h1>${what}</h1><p>${doThis}</p><p><a class="act plain" href="/">To the yard</a></p></div></main>`;
}
