// The form that opens a job, the plan desk, and the page that answers what is not there.
import type { Form } from '../../../desk/card.ts';
import type { PlanComplaint } from '../bench-options.ts';
import { formMarkup } from './form.ts';
import { html, type Markup } from './html.ts';

export function openBody(form: Form): Markup {
  return html`<main id="main" class="single"><div class="slip">${formMarkup(form, { do: 'open-job' }, undefined, true)}</div></main>`;
}

export function plansBody(): Markup {
  return html`<main id="main" class="single plans-main"><h1 class="page-title">Write a plan</h1><div class="slip"><label for="plan-text">The plan, in YAML</label><p class="hint" id="plan-hint">Checked while you type. The complaints stand below, each with its line and how to mend it. Nothing is saved here: copy the text into a file in the plans folder when it has no complaints.</p><textarea id="plan-text" class="plan-text" rows="24" spellcheck="false" aria-describedby="plan-hint"></textarea><h2>Complaints</h2><div id="complaints" role="status"><p>Write or paste a plan above.</p></div></div></main>`;
}

export function complaintsMarkup(complaints: readonly PlanComplaint[]): Markup {
  if (complaints.length === 0) return html`<p>No complaints.</p>`;
  return html`<p>${complaints.length === 1 ? '1 complaint' : `${complaints.length} complaints`}</p><ol class="complaints">${complaints
    .slice(0, 200)
    .map(
      (complaint) =>
        html`<li><button type="button" class="act plain line-no" data-line="${complaint.line}">Line ${complaint.line}</button><p class="text">${complaint.what}</p>${complaint.expected === undefined || complaint.expected === '' ? '' : html`<p>Expected: ${complaint.expected}</p>`}<p>${complaint.mend}</p></li>`,
    )}</ol>`;
}

export function noteBody(what: string, doThis: string): Markup {
  return html`<main id="main" class="single"><div class="slip"><h1>${what}</h1><p>${doThis}</p><p><a class="act plain" href="/">To the yard</a></p></div></main>`;
}
