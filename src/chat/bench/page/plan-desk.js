// The plan desk: complaints at their lines while one types, messages tried on the plan, and saving it.
import { byId, element, post } from './ask.js';

const PAUSE = 400;
const SHELF = 'chargehand-plan';

export function startPlanDesk() {
  const text = byId('plan-text');
  const place = byId('complaints');
  if (!(text instanceof HTMLTextAreaElement) || place === null) return;
  const kept = sessionStorage.getItem(SHELF);
  if (kept !== null && kept.trim() !== '') text.value = kept;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let pause;
  let asked = 0;
  const check = async () => {
    asked += 1;
    const mine = asked;
    const outcome = await post('/api/plan-check', { text: text.value });
    // An answer to an older text is not shown over the newer one's.
    if (mine !== asked) return;
    if (!outcome.ok) {
      place.textContent = `${outcome.what} ${outcome.doThis}`;
      return;
    }
    fill(place, outcome.value.html);
    numberLines(text, new Set(outcome.value.lines));
  };
  text.addEventListener('input', () => {
    sessionStorage.setItem(SHELF, text.value);
    numberLines(text);
    clearTimeout(pause);
    pause = setTimeout(() => void check(), PAUSE);
  });
  text.addEventListener('scroll', () => alongside(text));
  place.addEventListener('click', (event) => {
    const found =
      event.target instanceof Element ? event.target.closest('button[data-line]') : null;
    if (found instanceof HTMLElement) goToLine(text, Number(found.dataset.line));
  });
  const sample = byId('plan-sample');
  if (sample instanceof HTMLSelectElement) {
    sample.addEventListener('change', async () => {
      const outcome = await post('/api/plan-text', { plan: sample.value });
      if (!outcome.ok) return;
      text.value = outcome.value.text;
      sessionStorage.removeItem(SHELF);
      numberLines(text);
      await check();
    });
  }
  byId('plan-try-go')?.addEventListener('click', () => void tryOut(text.value));
  byId('plan-save')?.addEventListener('click', () => void save(text.value));
  numberLines(text);
  if (text.value !== '') void check();
}

/** @type {ReadonlySet<number>} Lines that a complaint names. */
let named = new Set();

/**
 * Numbers the lines beside the text; those with a complaint have a notch.
 * @param {HTMLTextAreaElement} text
 * @param {ReadonlySet<number>} [lines]
 */
function numberLines(text, lines) {
  if (lines !== undefined) named = lines;
  const gutter = byId('plan-lines');
  if (gutter === null) return;
  const count = text.value.split('\n').length;
  gutter.replaceChildren(
    ...Array.from({ length: count }, (_, at) => {
      const line = document.createElement('span');
      line.textContent = String(at + 1);
      if (named.has(at + 1)) line.className = 'named';
      return line;
    }),
  );
  alongside(text);
}

/** @param {HTMLTextAreaElement} text */
function alongside(text) {
  const gutter = byId('plan-lines');
  if (gutter !== null) gutter.scrollTop = text.scrollTop;
}

/**
 * @param {HTMLTextAreaElement} text
 * @param {number} line
 */
function goToLine(text, line) {
  const lines = text.value.split('\n');
  const from = lines.slice(0, line - 1).join('\n').length + (line > 1 ? 1 : 0);
  text.focus();
  text.setSelectionRange(from, from + (lines[line - 1]?.length ?? 0));
  text.scrollTop = ((line - 4) * text.scrollHeight) / lines.length;
}

/** @param {string} plan */
async function tryOut(plan) {
  const words = byId('plan-try');
  const place = byId('plan-tried');
  if (!(words instanceof HTMLTextAreaElement) || place === null) return;
  const messages = words.value.split('\n').filter((line) => line.trim() !== '');
  const outcome = await post('/api/plan-try', { text: plan, messages: messages.slice(0, 60) });
  if (outcome.ok) fill(place, outcome.value.html);
  else place.textContent = `${outcome.what} ${outcome.doThis}`;
}

/** @param {string} plan */
async function save(plan) {
  const place = byId('plan-says');
  const outcome = await post('/api/plan-save', { text: plan });
  if (outcome.ok) sessionStorage.removeItem(SHELF);
  if (place !== null)
    place.textContent = outcome.ok ? outcome.value.says : `${outcome.what} ${outcome.doThis}`;
}

/**
 * @param {HTMLElement} place
 * @param {string} markup
 */
function fill(place, markup) {
  const holder = element(`<div>${markup}</div>`);
  place.replaceChildren(...(holder?.childNodes ?? []));
}
