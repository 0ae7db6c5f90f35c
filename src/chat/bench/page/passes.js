// Coming in, letting in, leaving: what the page sends about passes.
import { byId, element, post } from './ask.js';
import { askSheet } from './sheets.js';

export function startPasses() {
  startEntering();
  document.addEventListener('click', (event) => {
    const found = event.target instanceof Element ? event.target.closest('button') : null;
    if (found === null) return;
    const { invite, kind, end } = found.dataset;
    if (invite !== undefined) void letIn({ kind: kind ?? 'own', name: invite }, found);
    else if (end !== undefined) void thenAgain('/api/end', { id: end }, found);
    else if ('leave' in found.dataset) void leave(found);
  });
  document.addEventListener('submit', (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement)) return;
    if (form.id === 'tablet-form') {
      event.preventDefault();
      void letIn({ kind: 'tablet', name: wordsIn('tablet-name') }, form);
    } else if (form.id === 'own-code') {
      event.preventDefault();
      void setOwnCode(form);
    }
  });
  const sheet = byId('ask');
  // What came of the code is seen in the list behind the sheet.
  if (document.body.dataset.page === 'people') {
    sheet?.addEventListener('close', () => location.reload());
  }
}

/** The token of a QR code stands behind the hash, which is never sent to a server by itself. */
function startEntering() {
  const form = byId('enter');
  if (!(form instanceof HTMLFormElement)) return;
  const token = location.hash.slice(1);
  if (token !== '') {
    byId('enter-by-link')?.removeAttribute('hidden');
    byId('enter-by-code')?.setAttribute('hidden', '');
    history.replaceState(null, '', '/enter');
  }
  let given = token;
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    void (async () => {
      const outcome = await post('/api/enter', {
        code: given === '' ? wordsIn('enter-code') : given,
      });
      if (outcome.ok) {
        if ('caches' in window) await caches.delete('chargehand-pages').catch(() => false);
        location.assign('/');
        return;
      }
      told(form, outcome);
      given = '';
      byId('enter-by-link')?.setAttribute('hidden', '');
      byId('enter-by-code')?.removeAttribute('hidden');
    })();
  });
}

/** @param {string} id */
function wordsIn(id) {
  const input = byId(id);
  return input instanceof HTMLInputElement ? input.value : '';
}

/**
 * @param {{ kind: string, name: string }} who
 * @param {Element} near
 */
async function letIn(who, near) {
  const outcome = await post('/api/invite', who);
  const shown = outcome.ok ? element(outcome.value.html) : undefined;
  if (!outcome.ok) told(near, outcome);
  else if (shown !== undefined) askSheet(shown);
}

/**
 * @param {string} path
 * @param {unknown} body
 * @param {HTMLElement} near
 */
async function thenAgain(path, body, near) {
  const outcome = await post(path, body);
  if (outcome.ok) location.reload();
  else told(near, outcome);
}

/** @param {HTMLElement} near */
async function leave(near) {
  const outcome = await post('/api/leave', {});
  if (!outcome.ok) {
    told(near, outcome);
    return;
  }
  if ('caches' in window) await caches.delete('chargehand-pages').catch(() => false);
  location.assign('/enter');
}

/** @param {HTMLFormElement} form */
async function setOwnCode(form) {
  const outcome = await post('/api/own-code', { code: wordsIn('own-code-words') });
  const line = form.querySelector('.form-says');
  if (outcome.ok) form.reset();
  if (line !== null) {
    line.textContent = outcome.ok
      ? 'Set. It is asked for on shared tablets from now on.'
      : `${outcome.what} ${outcome.doThis}`;
  }
}

/**
 * @param {Element} near
 * @param {{ what: string, doThis: string }} outcome
 */
function told(near, { what, doThis }) {
  const words = `${what} ${doThis}`;
  let line = near.closest('form, section, li, .slip')?.querySelector('.form-says');
  if (line === null || line === undefined) {
    line = document.createElement('p');
    line.className = 'form-says';
    near.after(line);
  }
  line.textContent = words;
  const region = byId('tell-now');
  if (region !== null) region.textContent = words;
}
