// What was typed and not yet taken: kept on this device with the time it was typed, sent once there is contact.
import { clockWords, lastContact, newId, post, threadHere } from './ask.js';
import { putWaiting } from './roll.js';

const SHELF = 'chargehand-outbox';

/**
 * @typedef {{ id: string, thread: string | null, text: string, typed: number, contact: string, by: string, photos?: string[], refused?: string }} Waiting
 * @typedef {{ say: (text: string, photos?: string[]) => Promise<string | undefined>, flush: () => Promise<void> }} Outbox
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
      line.remove();
    });
    line.querySelector('.what')?.append(again, leave);
  };

  const sendAll = async () => {
    for (const waiting of waitingNow()) {
      if (waiting.refused !== undefined) continue;
      // Somebody else's message is never sent under the name that is chosen now.
      if (waiting.by !== document.body.dataset.name) continue;
      const outcome = await post('/api/message', {
        id: waiting.id,
        thread: waiting.thread,
        text: waiting.text,
        clocks: { typed: waiting.typed, sent: Date.now(), contact: waiting.contact },
        ...(waiting.photos === undefined ? {} : { photos: waiting.photos }),
      });
      if (outcome.ok) {
        alter((all) => all.filter(({ id }) => id !== waiting.id));
        const line = document.getElementById(`w-${waiting.id}`);
        const state = line?.querySelector('.small');
        if (isDrawn(waiting.id)) line?.remove();
        else if (state) state.textContent = 'taken in';
        continue;
      }
      if (outcome.status === 0 || outcome.status >= 500) {
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
    say: async (text, photos) => {
      const by = document.body.dataset.name;
      if (by === undefined) return 'Choose who is posting, then send again.';
      const waiting = {
        id: newId(),
        thread: threadHere(),
        text,
        typed: Date.now(),
        contact: lastContact(),
        by,
        ...(photos === undefined ? {} : { photos }),
      };
      alter((all) => [...all, waiting]);
      show(waiting);
      await flushing;
      await flush();
      return undefined;
    },
    flush,
  };
}

/** @param {string} id */
function isDrawn(id) {
  return document.getElementById(`e-m-${id}`) !== null;
}

/** @param {Waiting} waiting @returns {Waiting} */
function without({ refused: _, ...waiting }) {
  return waiting;
}
