// How the page asks the bench: JSON there and back, with one line what and one line what to do when it is refused.

/**
 * @typedef {{ ok: true, value: any } | { ok: false, status: number, what: string, doThis: string, needs?: string }} Outcome
 * `status` is 0 when the bench was not reached.
 */

/** @type {string} The bench's own time as it last told it, signed; sent back with what is typed without contact. */
let contact = document.body.dataset.contact ?? '';

export const lastContact = () => contact;

/** @param {any} value */
function noteContact(value) {
  if (typeof value?.contact === 'string') contact = value.contact;
}

/**
 * @param {string} path
 * @param {unknown} body
 * @returns {Promise<Outcome>}
 */
export async function post(path, body) {
  return ask(path, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
}

/**
 * @param {string} path
 * @param {RequestInit} [init]
 * @param {number} [limitMs]
 * @returns {Promise<Outcome>}
 */
export async function ask(path, init = {}, limitMs = 15_000) {
  try {
    const response = await fetch(path, { ...init, signal: AbortSignal.timeout(limitMs) });
    const value = await response.json();
    if (response.ok) {
      noteContact(value);
      return { ok: true, value };
    }
    if (value.needs === 'pass' && document.body.dataset.page !== 'enter') await goToTheDoor();
    return {
      ok: false,
      status: response.status,
      what: String(value.what ?? 'It was not taken.'),
      doThis: String(value.doThis ?? 'Reload the page and try again.'),
      needs: value.needs,
    };
  } catch {
    return {
      ok: false,
      status: 0,
      what: 'No contact with the bench.',
      doThis: 'What you sent is kept on this device and goes by itself.',
    };
  }
}

/** The pass of this device has ended: what was kept to be read goes, what waits to be sent stays. */
async function goToTheDoor() {
  if ('caches' in window) await caches.delete('chargehand-pages').catch(() => false);
  location.assign('/enter');
}

/** An id of our own for what is sent, so that sending it twice counts once. */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** @param {string} id */
export const byId = (id) => document.getElementById(id);

/** The thread this page shows, or null in the yard. */
export const threadHere = () => document.body.dataset.thread ?? null;

/** @param {Date} date */
export const clockWords = (date) =>
  date.toLocaleTimeString('en-GB', {
    hour: '2-digit',
    minute: '2-digit',
    timeZone: document.body.dataset.zone,
  });

/**
 * Markup the bench drew, as an element. Nothing else is ever put into the page as markup.
 * @param {string} markup
 * @returns {HTMLElement | undefined}
 */
export function element(markup) {
  const template = document.createElement('template');
  template.innerHTML = markup;
  const first = template.content.firstElementChild;
  return first instanceof HTMLElement ? first : undefined;
}

/**
 * Gives an element the attributes and the content of another. The element itself stays, with the size the browser
 * remembers of it: a new one would be measured anew, and what stands below it would jump.
 * @param {HTMLElement} before
 * @param {HTMLElement} after
 */
export function redraw(before, after) {
  for (const { name } of [...before.attributes]) {
    if (!after.hasAttribute(name) && name !== 'open') before.removeAttribute(name);
  }
  for (const { name, value } of after.attributes) {
    if (before.getAttribute(name) !== value) before.setAttribute(name, value);
  }
  before.replaceChildren(...after.childNodes);
}
