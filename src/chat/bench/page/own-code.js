// What is sent from a shared tablet may take the poster's own code: it is asked for, and the same is sent once more.
import { post } from './ask.js';

/**
 * @param {string} path
 * @param {Record<string, unknown>} body
 * @returns {Promise<import('./ask.js').Outcome>}
 */
export async function postOwn(path, body) {
  let outcome = await post(path, body);
  while (!outcome.ok && outcome.needs === 'code') {
    const code = await askCode(outcome);
    if (code === undefined) return outcome;
    outcome = await post(path, { ...body, code });
  }
  return outcome;
}

/**
 * @param {{ what: string, doThis: string }} why
 * @returns {Promise<string | undefined>}
 */
export function askCode({ what, doThis }) {
  const sheet = document.createElement('dialog');
  sheet.className = 'sheet';
  sheet.setAttribute('aria-labelledby', 'own-code-asked');
  const form = document.createElement('form');
  const heading = document.createElement('h2');
  heading.id = 'own-code-asked';
  heading.textContent = what;
  const label = document.createElement('label');
  label.htmlFor = 'own-code-given';
  label.textContent = doThis;
  const input = document.createElement('input');
  input.id = 'own-code-given';
  input.type = 'password';
  input.autocomplete = 'off';
  input.required = true;
  input.maxLength = 40;
  const acts = document.createElement('div');
  acts.className = 'acts';
  const send = document.createElement('button');
  send.className = 'act main';
  send.textContent = 'Send it';
  const leave = document.createElement('button');
  leave.type = 'button';
  leave.className = 'act plain';
  leave.textContent = 'Leave it';
  acts.append(send, leave);
  form.append(heading, label, input, acts);
  sheet.append(form);
  document.body.append(sheet);
  sheet.showModal();
  input.focus();
  return new Promise((resolve) => {
    /** @type {string | undefined} */
    let given;
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      given = input.value;
      sheet.close();
    });
    leave.addEventListener('click', () => sheet.close());
    sheet.addEventListener('close', () => {
      sheet.remove();
      resolve(given);
    });
  });
}
