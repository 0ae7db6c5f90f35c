// The plan desk: complaints while one types, each leading to its line.
import { byId, element, post } from './ask.js';

const PAUSE = 500;

export function startPlanDesk() {
  const text = byId('plan-text');
  const place = byId('complaints');
  if (!(text instanceof HTMLTextAreaElement) || place === null) return;
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
    const holder = element(`<div>${outcome.value.html}</div>`);
    place.replaceChildren(...(holder?.childNodes ?? []));
  };
  text.addEventListener('input', () => {
    clearTimeout(pause);
    pause = setTimeout(() => void check(), PAUSE);
  });
  place.addEventListener('click', (event) => {
    const found =
      event.target instanceof Element ? event.target.closest('button[data-line]') : null;
    if (!(found instanceof HTMLElement)) return;
    const line = Number(found.dataset.line);
    const lines = text.value.split('\n');
    const from = lines.slice(0, line - 1).join('\n').length + (line > 1 ? 1 : 0);
    text.focus();
    text.setSelectionRange(from, from + (lines[line - 1]?.length ?? 0));
  });
  if (text.value !== '') void check();
}
