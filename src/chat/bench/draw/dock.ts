// The lower edge of the page, where the thumb is: the next steps and the composer.
import type { BenchJob, BenchNext } from '../bench-view.ts';
import { unitWords } from './form.ts';
import { html, type Markup } from './html.ts';
import type { Frame } from './time-words.ts';

/** A label as it stands inside a sentence; an abbreviation keeps its capitals. */
const inSentence = (label: string): string =>
  /^\p{Lu}\p{Ll}/u.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label;

function nextButton(next: BenchNext, prefix: string): Markup {
  const figure =
    next.figure === undefined
      ? ''
      : html` data-figure="${JSON.stringify({ ...next.figure, symbol: unitWords(next.figure.unit) })}"`;
  const position = next.position === null ? '' : `, ${next.position}`;
  return html`<button type="button" class="next${next.safety ? ' safety' : ''}" data-says="${prefix}${next.says}"${figure}><span class="next-title">${next.title}${position}</span><span class="small">${next.phase}${next.safety ? ', safety-critical' : ''}${next.figure === undefined ? '' : `, asks for ${inSentence(next.figure.label)}`}</span></button>`;
}

/** The next steps: the first one at hand, all of them in a sheet behind "Next steps". */
export function nextMarkup(job: BenchJob | undefined, prefix = ''): Markup {
  const first = job?.next[0];
  if (job === undefined) return html``;
  if (first === undefined) {
    return html`<div class="nexts" id="nexts"><p class="nexts-none">Nothing is next on this plan.</p></div>`;
  }
  return html`<div class="nexts" id="nexts">${nextButton(first, prefix)}<button type="button" class="act plain nexts-all" data-open="all-next">Next steps</button></div>`;
}

export function nextDialog(job: BenchJob | undefined, prefix = ''): Markup {
  if (job === undefined) return html``;
  return html`<dialog class="sheet" id="all-next" aria-labelledby="all-next-title"><h2 id="all-next-title">Next on job ${job.job}</h2><p class="small">One tap reports the step as done, in the words shown in the thread afterwards.</p><ul class="next-list">${job.next.map(
    (next) =>
      html`<li>${nextButton(next, prefix)}${next.caution === undefined ? '' : html`<p class="care"><strong>Take care.</strong> ${next.caution}</p>`}</li>`,
  )}</ul><div class="acts"><button type="button" class="act plain" data-close>Back</button></div></dialog>`;
}

/** The composer, or the choice of who is posting where nobody is chosen. */
export function composerMarkup(frame: Frame, draft: string): Markup {
  if (frame.who === undefined) {
    return html`<button type="button" class="act main wide" data-open="who">Choose who is posting</button>`;
  }
  return html`<form class="composer" id="composer"><label class="hidden" for="words">Your message, posted as ${frame.who}</label><textarea id="words" name="words" rows="1" maxlength="4000" enterkeyhint="send" autocomplete="off" placeholder="What is done?">${draft}</textarea><label class="act plain photo-pick" for="photo"><span aria-hidden="true">Photo</span><span class="hidden">Add a photo</span></label><input class="hidden" id="photo" type="file" accept="image/jpeg,image/png,image/webp" capture="environment"><button class="act main" type="submit">Send</button></form><p class="composer-says small" id="composer-says" role="status"></p>`;
}

/** The sheet in which the poster is chosen. */
export function whoDialog(frame: Frame): Markup {
  return html`<dialog class="sheet" id="who" aria-labelledby="who-title"><h2 id="who-title">Who is posting?</h2><p class="small">The name is chosen here and not proved. On a shared tablet choose again when hands change.</p><div class="names">${frame.people.map(
    (name) =>
      html`<button type="button" class="act plain" data-who="${name}"${name === frame.who ? html` aria-current="true"` : ''}>${name}</button>`,
  )}</div><div class="acts"><button type="button" class="act plain" data-close>Back</button></div></dialog>`;
}
