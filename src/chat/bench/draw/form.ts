// A form on paper: every field with its label above the line.
import type { Field, Form, Intent } from '../../../desk/card.ts';
import { isUnit, symbolOf } from '../../../trade/units.ts';
import { html, type Markup } from './html.ts';

let made = 0;

/** A unit as people write it: °C, N·m. A count has none. */
export const unitWords = (unit: string): string => (isUnit(unit) ? symbolOf(unit) : unit);

/** A form that sends a tap with its fields. `heads` makes its title the page's own. */
export function formMarkup(form: Form, intent: Intent, message?: string, heads = false): Markup {
  made = (made + 1) % 1_000_000;
  const prefix = `f${made}`;
  return html`<form class="form" data-form data-intent="${JSON.stringify(intent)}"${message === undefined ? '' : html` data-message="${message}"`}>
${heads ? html`<h1>${form.title}</h1>` : html`<h2>${form.title}</h2>`}
${form.fields.map((field, at) => fieldMarkup(field, `${prefix}-${at}`))}
<p class="form-says" role="status"></p>
<div class="acts"><button class="act main" type="submit">${form.submit}</button><button class="act plain" type="button" data-close>Leave it</button></div>
</form>`;
}

function fieldMarkup(field: Field, id: string): Markup {
  // A hint of two lines is that of a field which was refused: what is wrong, then how it is written.
  const [first = '', ...rest] = field.hint?.split('\n') ?? [];
  const isWrong = rest.length > 0;
  const hint =
    field.hint === undefined
      ? ''
      : isWrong
        ? html`<p class="hint" id="${id}-hint"><strong class="wrong">${first}</strong> ${rest.join(' ')}</p>`
        : html`<p class="hint" id="${id}-hint">${first}</p>`;
  const symbol = field.unit === undefined ? '' : unitWords(field.unit);
  const unit = symbol === '' ? '' : html`<span class="unit">, in ${symbol}</span>`;
  const optional = field.required ? '' : html`<span class="unit">, may be left out</span>`;
  const told = field.hint === undefined ? '' : html` aria-describedby="${id}-hint"`;
  const required = field.required ? html` required` : '';
  const value = field.value ?? '';
  const wrong = isWrong ? html` aria-invalid="true"` : '';
  const named = html`id="${id}" name="${field.name}"${told}${required}${wrong}`;
  if (field.kind === 'choices') {
    const chosen = new Set(value.split('\n'));
    return html`<fieldset class="field" data-kind="choices" data-name="${field.name}"${told}><legend>${field.label}${optional}</legend>${hint}<div class="stamps">${(
      field.choices ?? []
    ).map(
      (choice, at) =>
        html`<label class="press" for="${id}-${at}"><input type="checkbox" id="${id}-${at}" name="${field.name}" value="${choice.value}"${chosen.has(choice.value) ? html` checked` : ''}><span>${choice.label}</span></label>`,
    )}</div></fieldset>`;
  }
  const label = html`<label for="${id}">${field.label}${unit}${optional}</label>${hint}`;
  switch (field.kind) {
    case 'long-text':
      return html`<div class="field">${label}<textarea ${named} rows="3">${value}</textarea></div>`;
    case 'choice':
      return html`<div class="field">${label}<select ${named}>${field.required && value !== '' ? '' : html`<option value="">Choose</option>`}${(
        field.choices ?? []
      ).map(
        (choice) =>
          html`<option value="${choice.value}"${choice.value === value ? html` selected` : ''}>${choice.label}</option>`,
      )}</select></div>`;
    case 'number':
      return html`<div class="field">${label}<input ${named} inputmode="decimal" autocomplete="off" value="${value}"></div>`;
    case 'date-time':
      return html`<div class="field">${label}<input ${named} type="datetime-local" data-kind="date-time" value="${value.slice(0, 16)}"></div>`;
    case 'text':
      return html`<div class="field">${label}<input ${named} autocomplete="off" value="${value}"></div>`;
  }
}
