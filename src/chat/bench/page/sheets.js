// Sheets laid over the page: flags, next steps, who is posting, a figure, a form, amending one's own words.
import { ask, byId, element, newId, post, threadHere } from './ask.js';
import { postOwn } from './own-code.js';

/** What may need a form that only the bench can fill in; the others are sent at one tap. */
const WITHOUT_FORM = new Set(['answer', 'acknowledge', 'say', 'choose-job']);

export function startSheets() {
  document.addEventListener('click', (event) => {
    const found = event.target instanceof Element ? event.target.closest('button') : null;
    if (found === null) return;
    const { open, who, tap, amend, desk } = found.dataset;
    if (open !== undefined) openSheet(open);
    else if ('close' in found.dataset) closeOrLeave(found);
    else if (who !== undefined) void choose(who, found);
    else if (tap !== undefined) void tapped(found, tap);
    else if (desk !== undefined) void openDesk(found, desk);
    else if (amend !== undefined) amendSheet(amend, found.dataset.text ?? '');
    else if ('demo' in found.dataset) void loadDemo(found);
    else if ('print' in found.dataset) window.print();
  });
  document.addEventListener('submit', (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || !('form' in form.dataset)) return;
    event.preventDefault();
    void sendForm(form);
  });
}

/** @param {string} id */
export function openSheet(id) {
  const sheet = byId(id);
  if (sheet instanceof HTMLDialogElement && !sheet.open) sheet.showModal();
}

/** @param {HTMLElement} found */
function closeOrLeave(found) {
  const sheet = found.closest('dialog');
  if (sheet === null) location.assign('/');
  else sheet.close();
}

/**
 * The one sheet whose content is made when it is needed.
 * @param {...Node} content
 */
export function askSheet(...content) {
  const sheet = byId('ask');
  if (!(sheet instanceof HTMLDialogElement)) return undefined;
  for (const other of document.querySelectorAll('dialog[open]')) {
    if (other instanceof HTMLDialogElement) other.close();
  }
  sheet.replaceChildren(...content);
  sheet.showModal();
  return sheet;
}

/**
 * @param {string} name
 * @param {HTMLElement} found
 */
async function choose(name, found) {
  const outcome = await post('/api/who', { name });
  if (!outcome.ok) {
    says(found, outcome);
    return;
  }
  // Pages kept for want of contact were drawn for whoever posted before.
  if ('caches' in window) await caches.delete('chargehand-pages').catch(() => false);
  location.reload();
}

/**
 * Says in the sheet why something was not taken.
 * @param {Element} near
 * @param {{ what: string, doThis: string }} outcome
 */
function says(near, outcome) {
  const region = byId('tell-now');
  const words = `${outcome.what} ${outcome.doThis}`;
  if (region !== null) region.textContent = words;
  const place = near.closest('form, dialog, article, li, section') ?? near.parentElement;
  let line = place?.querySelector('.form-says');
  if (line === null || line === undefined) {
    line = document.createElement('p');
    line.className = 'form-says';
    near.after(line);
  }
  line.textContent = words;
}

/**
 * @param {HTMLButtonElement} found
 * @param {string} tap the intent as JSON
 */
async function tapped(found, tap) {
  const beside = found.nextElementSibling;
  if (beside instanceof HTMLTemplateElement) {
    askSheet(beside.content.cloneNode(true));
    return;
  }
  if (document.body.dataset.name === undefined) {
    openSheet('who');
    return;
  }
  const intent = JSON.parse(tap);
  found.disabled = true;
  if (!WITHOUT_FORM.has(intent.do)) {
    const asked = await post('/api/form', { intent });
    const form = asked.ok && asked.value.form !== null ? element(asked.value.form) : undefined;
    if (!asked.ok) says(found, asked);
    if (form !== undefined) {
      if (found.dataset.message !== undefined) form.dataset.message = found.dataset.message;
      askSheet(form);
    }
    if (!asked.ok || form !== undefined) {
      found.disabled = false;
      return;
    }
  }
  const outcome = await sendTap(intent, found.dataset.message);
  found.disabled = false;
  if (outcome.ok) {
    found.classList.add('pressed');
    found.closest('dialog')?.close();
  } else says(found, outcome);
}

/**
 * The sheet of what can be settled on a job, asked for when it is wanted: a list of jobs stays light.
 * @param {HTMLButtonElement} found
 * @param {string} job
 */
async function openDesk(found, job) {
  const query = new URLSearchParams({ page: 'desk', job });
  const outcome = await ask(`/parts?${query}`);
  const sheet = outcome.ok ? element(outcome.value.parts.desk) : undefined;
  if (!outcome.ok) says(found, outcome);
  else if (sheet !== undefined) askSheet(sheet);
}

/**
 * @param {unknown} intent
 * @param {string} [message]
 * @param {Record<string, string | string[]>} [fields]
 * @param {string[]} [times]
 */
function sendTap(intent, message, fields, times) {
  return postOwn('/api/tap', {
    id: newId(),
    thread: threadHere(),
    intent,
    ...(message === undefined ? {} : { message }),
    ...(fields === undefined ? {} : { fields, times: times ?? [] }),
  });
}

/** @param {HTMLFormElement} form */
async function sendForm(form) {
  if (document.body.dataset.name === undefined) {
    openSheet('who');
    return;
  }
  /** @type {Record<string, string | string[]>} */
  const fields = {};
  const times = [];
  for (const control of form.elements) {
    if (
      !(
        control instanceof HTMLInputElement ||
        control instanceof HTMLTextAreaElement ||
        control instanceof HTMLSelectElement
      ) ||
      control.name === ''
    )
      continue;
    if (control instanceof HTMLInputElement && control.type === 'checkbox') {
      const before = fields[control.name];
      const chosen = Array.isArray(before) ? before : [];
      fields[control.name] = control.checked ? [...chosen, control.value] : chosen;
    } else if (control.value !== '') {
      fields[control.name] = control.value;
      if (control.dataset.kind === 'date-time') times.push(control.name);
    }
  }
  const submit = form.querySelector('button[type=submit]');
  if (submit instanceof HTMLButtonElement) submit.disabled = true;
  const intent = JSON.parse(form.dataset.intent ?? '{}');
  const outcome = await sendTap(intent, form.dataset.message, fields, times);
  if (submit instanceof HTMLButtonElement) submit.disabled = false;
  if (!outcome.ok) {
    says(form.querySelector('.form-says') ?? form, outcome);
    return;
  }
  if (typeof outcome.value.form === 'string') {
    formAgain(form, outcome.value.form, String(outcome.value.what));
    return;
  }
  if (typeof outcome.value.what === 'string') {
    says(form.querySelector('.form-says') ?? form, { what: outcome.value.what, doThis: '' });
    return;
  }
  const sheet = form.closest('dialog');
  if (typeof outcome.value.opened === 'string')
    location.assign(`/job/${encodeURIComponent(outcome.value.opened)}`);
  else if (sheet === null) location.assign('/');
  else sheet.close();
}

/**
 * The form as it was typed, with what is wrong beside each field.
 * @param {HTMLFormElement} before
 * @param {string} markup
 * @param {string} what
 */
function formAgain(before, markup, what) {
  const again = element(markup);
  if (!(again instanceof HTMLFormElement)) return;
  before.replaceWith(again);
  const told = again.querySelector('.form-says');
  if (told !== null) told.textContent = what;
  const region = byId('tell-now');
  if (region !== null) region.textContent = what;
  const first = again.querySelector('[aria-invalid]');
  if (first instanceof HTMLElement) first.focus();
}

/**
 * @param {string} message
 * @param {string} text
 */
function amendSheet(message, text) {
  const sheet = askSheet(
    heading('Amend your message'),
    note('What it recorded is amended too. Taken back, it stays in the record as taken back.'),
  );
  if (sheet === undefined) return;
  const words = document.createElement('textarea');
  words.id = 'amend-words';
  words.rows = 3;
  words.maxLength = 4000;
  words.value = text;
  const label = document.createElement('label');
  label.htmlFor = words.id;
  label.textContent = 'Your words';
  const acts = document.createElement('div');
  acts.className = 'acts';
  const line = document.createElement('p');
  line.className = 'form-says';
  line.setAttribute('role', 'status');
  const send = async (path, more) => {
    const outcome = await postOwn(path, { id: newId(), thread: threadHere(), message, ...more });
    if (outcome.ok) sheet.close();
    else line.textContent = `${outcome.what} ${outcome.doThis}`;
  };
  acts.append(
    button('Change the words', 'main', () => void send('/api/change', { text: words.value })),
    button('Take it back', 'grave', () => void send('/api/take-back', {})),
    button('Leave it', 'plain', () => sheet.close()),
  );
  sheet.append(label, words, line, acts);
  words.focus();
}

/**
 * Asks for the figure a step needs, on a keypad with figures, and gives the report in words.
 * @param {string} report
 * @param {{ label: string, unit: string, symbol?: string, limits?: string }} figure
 * @param {(text: string) => void} send
 */
export function figureSheet(report, figure, send) {
  const form = document.createElement('form');
  const label = document.createElement('label');
  label.htmlFor = 'figure';
  label.textContent =
    (figure.symbol ?? figure.unit) === ''
      ? figure.label
      : `${figure.label}, in ${figure.symbol ?? figure.unit}`;
  const input = document.createElement('input');
  input.id = 'figure';
  input.inputMode = 'decimal';
  input.autocomplete = 'off';
  input.required = true;
  input.className = 'figure';
  const acts = document.createElement('div');
  acts.className = 'acts';
  const line = note(figure.limits ?? '');
  line.id = 'figure-limits';
  input.setAttribute('aria-describedby', line.id);
  const sendButton = button('Report it', 'main', () => {});
  sendButton.type = 'submit';
  const sheet = askSheet(heading(report), form);
  acts.append(
    sendButton,
    button('Leave it', 'plain', () => sheet?.close()),
  );
  const told = document.createElement('p');
  told.className = 'form-says';
  told.setAttribute('role', 'status');
  form.append(label, line, input, told, acts);
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const value = input.value.trim();
    if (!/^[+-]?\d+([.,]\d+)?$/.test(value)) {
      told.textContent = `"${value}" is no figure. Type it in figures, such as 28 or 0,35.`;
      return;
    }
    sheet?.close();
    send(`${report} ${value} ${figure.symbol ?? figure.unit}`.trim());
  });
  input.focus();
}

/** @param {HTMLButtonElement} found */
async function loadDemo(found) {
  found.disabled = true;
  found.textContent = 'Loading';
  const outcome = await ask(
    '/api/demo',
    { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' },
    120_000,
  );
  if (outcome.ok) location.reload();
  else {
    found.disabled = false;
    found.textContent = 'Load the demonstration';
    says(found, outcome);
  }
}

/** @param {string} text */
function heading(text) {
  const made = document.createElement('h2');
  made.textContent = text;
  return made;
}

/** @param {string} text */
function note(text) {
  const made = document.createElement('p');
  made.className = 'small';
  made.textContent = text;
  return made;
}

/**
 * @param {string} label
 * @param {'main' | 'plain' | 'grave'} weight
 * @param {() => void} act
 */
function button(label, weight, act) {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = `act ${weight}`;
  made.textContent = label;
  made.addEventListener('click', act);
  return made;
}
