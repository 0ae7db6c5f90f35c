// Sheets for paper, beside the job card: the tightening sheet and the handover, A4 or Letter.
import type { Card } from '../../../desk/card.ts';
import type { BenchJob, BenchStage } from '../bench-view.ts';
import { jobHref, statesMarkup } from './bay.ts';
import { html, type Markup, type Piece } from './html.ts';
import { LEVEL_WORD, raisedOn } from './level.ts';
import { type Frame, timeWords } from './time-words.ts';

function sheetBody(job: BenchJob, name: string, body: Piece, frame: Frame): Markup {
  return html`<main id="main" class="single sheet-main"><p class="print-only">${frame.workshop}. Printed ${timeWords(frame.now, frame)}, ${frame.now.slice(0, 10)}.</p><p class="no-print back"><a class="act plain" href="${jobHref(job.job)}">Back to the thread</a> <button type="button" class="act plain" data-print>Print this sheet</button></p><article class="slip paper-sheet"><div class="card-head"><p class="card-no">${job.job}</p><div><h1>${name}</h1><p class="card-vehicle">${job.vehicle}</p><p class="small">${job.plan}. ${job.machine}</p></div></div>${body}<p class="small notice">${job.notice}</p></article></main>`;
}

/** Every stage with what is planned and what was said; what was not said has a line to write on. */
export function tighteningBody(job: BenchJob, stages: readonly BenchStage[], frame: Frame): Markup {
  const groups = new Map<string, BenchStage[]>();
  for (const stage of stages) {
    const key = `${stage.step}, ${stage.position ?? ''}`;
    groups.set(key, [...(groups.get(key) ?? []), stage]);
  }
  const sources = [...new Set(stages.map(({ source }) => source).filter((text) => text !== ''))];
  const tables = [...groups.values()].map((rows) => {
    const [first] = rows;
    if (first === undefined) return html``;
    return html`<section class="tight"><h2>${first.step}${first.position === null ? '' : `, ${first.position}`}</h2><p class="small">${first.of}</p><div class="wide-table" role="region" tabindex="0" aria-label="Stages of ${first.step}${first.position === null ? '' : `, ${first.position}`}"><table><thead><tr><th scope="col">Stage</th><th scope="col">Planned</th><th scope="col">Said</th><th scope="col">Tool</th><th scope="col">When, who</th></tr></thead><tbody>${rows.map(
      (row) =>
        html`<tr><th scope="row">${row.stage}</th><td>${row.planned}</td><td class="written">${row.said}</td><td class="written">${row.tool}</td><td class="written">${row.at === null ? '' : timeWords(row.at, frame)}${row.by === null ? '' : `, ${row.by}`}</td></tr>`,
    )}</tbody></table></div></section>`;
  });
  const body = html`${stages.length === 0 ? html`<p>Nothing on this job is tightened in stages.</p>` : tables}${sources.length === 0 ? '' : html`<p class="small">Limits from: ${sources.join('; ')}.</p>`}`;
  return sheetBody(job, 'Tightening sheet', body, frame);
}

/** The handover with the vehicle first, and room for two names. */
export function handoverBody(job: BenchJob, card: Card, frame: Frame): Markup {
  const rows = card.blocks.flatMap((block) => (block.kind === 'facts' ? block.rows : []));
  const flags = raisedOn([job]);
  const shown = rows.filter(([label]) => label !== 'Flags open' && label !== 'Waits for');
  const body = html`<h2>The vehicle now</h2>${job.vehicleState.length === 0 ? html`<p>No unsafe state is recorded.</p>` : statesMarkup(job.vehicleState)}
<h2>Flags</h2>${flags.length === 0 ? html`<p>None standing.</p>` : html`<ul class="card-flags">${flags.map(({ flag }) => html`<li class="flag ${flag.level}"><strong class="level">${LEVEL_WORD[flag.level]}</strong> ${flag.says}</li>`)}</ul>`}
<h2>What it waits for</h2>${job.waits.length === 0 ? html`<p>Nothing.</p>` : html`<ul class="plain-list">${job.waits.map((wait) => html`<li>${wait}</li>`)}</ul>`}
<h2>The work</h2><dl class="facts">${shown.map(([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`)}${job.forecast === undefined ? '' : html`<div><dt>Ready</dt><dd>${job.forecast}</dd></div>`}</dl>
<dl class="sign-lines"><div><dt>Handed over by</dt><dd></dd></div><div><dt>Taken over by</dt><dd></dd></div><div><dt>Time</dt><dd></dd></div></dl>`;
  return sheetBody(job, 'Handover', body, frame);
}
