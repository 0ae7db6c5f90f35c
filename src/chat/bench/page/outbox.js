// What was typed and not yet taken: kept on this device with the time it was typed, sent once there is contact.
import { ask, clockWords, lastContact, newId, threadHere } from './ask.js';
import { postOwn } from './own-code.js';
import { dropPhoto, keepPhoto, keptPhoto } from './photo-shelf.js';
import { putWaiting } from './roll.js';

const SHELF = 'chargehand-outbox';

/**
 * @typedef {{ id: string, thread: string | null, text: string, typed: number, contact: string, by: string, photo?: boolean, refused?: string }} Waiting
 * @typedef {{ say: (text: string, photo?: Blob) => Promise<string | undefined>, flush: () => Promise<void> }} Outbox
 */

/** @returns {Waiting[]} */
function read() {
  try {
    const kept = JSON.parse(localStorage.getItem(SHELF) ?? '[]');
    return Array.isArray(kept) ? kept : [];
  } catch {
    return [];
  }
}

/** @type {Waiting[]} Where the device keeps nothing, the page itself does until it is closed. */
let inPage = [];
let keeps = true;

const waitingNow = () => (keeps ? read() : inPage);

/** @param {Waiting[]} waiting */
function write(waiting) {
  inPage = waiting;
  try {
    localStorage.setItem(SHELF, JSON.stringify(waiting));
    keeps = true;
  } catch {
    keeps = false;
  }
}

/** @param {(waiting: Waiting[]) => Waiting[]} change */
function alter(change) {
  write(change(waitingNow()));
}

/** @returns {Outbox} */
export function startOutbox() {
  /** @type {Promise<void> | undefined} */
  let flushing;

  /** @param {string} words */
  const sayWaiting = (words) => {
    for (const state of document.querySelectorAll('.line.waiting:not(.refused) .small')) {
      state.textContent = words;
    }
  };

  /** @param {Waiting} waiting */
  const show = (waiting) => {
    if (waiting.thread !== threadHere() || document.getElementById('roll') === null) return;
    // The page was drawn again with the taken line on it before the answer to the sending was heard.
    if (isDrawn(waiting.id)) return;
    const line = putWaiting(waiting, clockWords(new Date(waiting.typed)));
    if (waiting.photo === true) void showPhoto(line, waiting.id);
    if (waiting.refused === undefined || line === undefined) return;
    const again = document.createElement('button');
    again.type = 'button';
    again.className = 'act plain';
    again.textContent = 'Send again';
    again.addEventListener('click', () => {
      alter((all) => all.map((one) => (one.id === waiting.id ? without(one) : one)));
      show(without(waiting));
      void flush();
    });
    const leave = document.createElement('button');
    leave.type = 'button';
    leave.className = 'act plain';
    leave.textContent = 'Leave it';
    leave.addEventListener('click', () => {
      alter((all) => all.filter((one) => one.id !== waiting.id));
      void dropPhoto(waiting.id);
      line.remove();
    });
    line.querySelector('.what')?.append(again, leave);
  };

  const sendAll = async () => {
    for (const waiting of waitingNow()) {
      if (waiting.refused !== undefined) continue;
      // Somebody else's message is never sent under the name that is chosen now.
      if (waiting.by !== document.body.dataset.name) continue;
      const outcome = await sendOne(waiting);
      if (outcome.ok) {
        alter((all) => all.filter(({ id }) => id !== waiting.id));
        if (waiting.photo === true) void dropPhoto(waiting.id);
        const line = document.getElementById(`w-${waiting.id}`);
        const state = line?.querySelector('.small');
        if (isDrawn(waiting.id)) line?.remove();
        else if (state) state.textContent = 'taken in';
        continue;
      }
      if (outcome.status === 0 || outcome.status >= 500 || outcome.needs === 'pass') {
        document.dispatchEvent(new CustomEvent('unreached'));
        sayWaiting(
          outcome.status === 0
            ? 'waiting for contact; kept on this device'
            : `${outcome.what} ${outcome.doThis}`,
        );
        return;
      }
      const refused = { ...waiting, refused: `${outcome.what} ${outcome.doThis}` };
      alter((all) => all.map((one) => (one.id === waiting.id ? refused : one)));
      show(refused);
    }
  };
  const flush = () => {
    flushing ??= sendAll().finally(() => {
      flushing = undefined;
    });
    return flushing;
  };

  for (const waiting of waitingNow()) show(waiting);
  window.addEventListener('online', () => void flush());
  document.addEventListener('contact', () => void flush());
  void flush();

  return {
    say: async (text, photo) => {
      const by = document.body.dataset.name;
      if (by === undefined) return 'Choose who is posting, then send again.';
      const waiting = {
        id: newId(),
        thread: threadHere(),
        text,
        typed: Date.now(),
        contact: lastContact(),
        by,
        ...(photo === undefined ? {} : { photo: true }),
      };
      // The photo first: a message that says it has one must find it after a reload.
      if (photo !== undefined) await keepPhoto(waiting.id, photo);
      alter((all) => [...all, waiting]);
      show(waiting);
      await flushing;
      await flush();
      return undefined;
    },
    flush,
  };
}

/**
 * The photo goes under the message's own id, so that one sent twice is kept once; then the message that shows it.
 * @param {Waiting} waiting
 * @returns {Promise<import('./ask.js').Outcome>}
 */
async function sendOne(waiting) {
  let photos;
  if (waiting.photo === true) {
    const kept = await keptPhoto(waiting.id);
    if (kept === undefined)
      return {
        ok: false,
        status: 410,
        what: 'Its photo is not on this device any more.',
        doThis: 'Leave it, and take the photo again.',
      };
    const headers = { 'x-photo': waiting.id };
    const sent = await ask('/api/photo', { method: 'POST', headers, body: kept }, 60_000);
    if (!sent.ok) return sent;
    photos = [sent.value.photo];
  }
  return postOwn('/api/message', {
    id: waiting.id,
    thread: waiting.thread,
    text: waiting.text,
    clocks: { typed: waiting.typed, sent: Date.now(), contact: waiting.contact },
    ...(photos === undefined ? {} : { photos }),
  });
}

/**
 * @param {HTMLElement | undefined} line
 * @param {string} id
 */
async function showPhoto(line, id) {
  const picture = document.createElement('img');
  picture.width = 160;
  picture.height = 120;
  picture.alt = 'Photo that waits to be sent';
  picture.className = 'waiting-photo';
  line?.querySelector('.what')?.append(picture);
  const kept = await keptPhoto(id);
  if (kept !== undefined) picture.src = URL.createObjectURL(kept);
}

/** @param {string} id */
function isDrawn(id) {
  return document.getElementById(`e-m-${id}`) !== null;
}

/** @param {Waiting} waiting @returns {Waiting} */
function without({ refused: _, ...waiting }) {
  return waiting;
}
