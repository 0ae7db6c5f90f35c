// Keeps the page up to date, tells flags aloud, and says plainly when contact is lost.
import { ask, byId, clockWords, element, redraw, threadHere } from './ask.js';
import { putLine } from './roll.js';
import { fitWall } from './wall.js';

const page = document.body.dataset.page ?? 'yard';
const job = document.body.dataset.job;
/** How often the bench is asked whether it is there, in milliseconds: a lost phone signal closes nothing by itself. */
const ASK_EVERY = 10_000;

/** @param {{ flush: () => Promise<void> }} outbox */
export function startLive(outbox) {
  /** @type {Set<string> | undefined} */
  let toldFlags;
  /** @type {EventSource | undefined} */
  let source;
  let lastEvent = document.body.dataset.since ?? '';
  let heardAt = new Date(document.body.dataset.now ?? Date.now());
  let isLost = false;
  const ownTitle = document.title;
  /** @type {Set<string>} */
  const changed = new Set();
  let refreshing = false;

  /** @param {boolean} reached */
  const contactIs = (reached) => {
    const told = byId('contact');
    if (reached) heardAt = new Date();
    document.body.classList.toggle('lost', !reached);
    if (told !== null) {
      if (!reached) told.textContent = `No contact since ${clockWords(heardAt)}`;
      else told.textContent = page === 'wall' ? `as of ${clockWords(heardAt)}` : 'in contact';
    }
    if (reached && isLost) {
      document.dispatchEvent(new Event('contact'));
      void refresh('');
    }
    isLost = !reached;
  };

  const checkContact = async () => {
    const outcome = await ask('/contact', {}, 6_000);
    contactIs(outcome.ok);
    if (!outcome.ok) return;
    const isClosed = source === undefined || source.readyState === EventSource.CLOSED;
    if (document.visibilityState === 'hidden') void refresh('');
    else if (isClosed) listen();
    void outbox.flush();
  };

  const listen = () => {
    source?.close();
    const query = new URLSearchParams({ since: lastEvent });
    const thread = threadHere();
    if (thread !== null) query.set('thread', thread);
    source = new EventSource(`/live?${query}`);
    source.onopen = () => contactIs(true);
    source.onerror = () => void checkContact();
    source.addEventListener('entry', (event) => {
      lastEvent = event.lastEventId;
      const { id, html } = JSON.parse(event.data);
      if (page === 'yard' || page === 'job') putLine(id, html);
    });
    source.addEventListener('job', (event) => {
      lastEvent = event.lastEventId;
      void refresh(JSON.parse(event.data).job);
    });
    source.addEventListener('again', (event) => {
      lastEvent = event.lastEventId;
      // More was missed than the bench keeps: the page is drawn again, with what is being typed kept.
      reloadOnce();
    });
  };

  /**
   * Fetches what a changed job touches. Changes that come while one is fetched are fetched together after it.
   * @param {string} number
   */
  const refresh = async (number) => {
    changed.add(number);
    if (refreshing) return;
    refreshing = true;
    while (changed.size > 0) {
      const [first = ''] = changed;
      changed.delete(first);
      const query = new URLSearchParams({ page });
      if (job !== undefined) query.set('job', job);
      if (first !== '') query.set('changed', first);
      const outcome = await ask(`/parts?${query}`);
      if (outcome.ok) put(outcome.value, first);
      else if (outcome.status === 0) contactIs(false);
    }
    refreshing = false;
  };

  /**
   * @param {{ parts: Record<string, string>, bay?: string | null, order: string[], thread: string | null, flags: { key: string, level: string, says: string, job: string }[] }} news
   * @param {string} number
   */
  const put = (news, number) => {
    if (page === 'job' && news.thread !== null && threadHere() === null) {
      location.reload();
      return;
    }
    for (const [id, markup] of Object.entries(news.parts)) replace(id, markup);
    if (page === 'wall') fitWall();
    if (news.bay !== undefined) putBay(number, news.bay, news.order);
    tellFlags(news.flags);
  };

  /** @param {{ key: string, level: string, says: string, job: string }[]} flags */
  const tellFlags = (flags) => {
    const stopCount = flags.filter(({ level }) => level === 'stop').length;
    document.title = `${stopCount === 0 ? '' : stopCount === 1 ? '1 stop · ' : `${stopCount} stops · `}${ownTitle}`;
    const before = toldFlags;
    toldFlags = new Set(flags.map(({ key, level }) => `${level}:${key}`));
    if (before === undefined) return;
    const fresh = flags.filter(({ key, level }) => !before.has(`${level}:${key}`));
    const stops = fresh.filter(({ level }) => level === 'stop');
    const cautions = fresh.filter(({ level }) => level === 'caution');
    if (stops.length > 0) tell('tell-now', stops, 'Stop');
    if (cautions.length > 0) tell('tell', cautions, 'Caution');
    if (stops.length > 0) byId('rail')?.classList.add('struck');
  };

  // The flags that stand when the page opens are not news.
  toldFlags = new Set(
    page === 'wall' || page === 'yard'
      ? [...document.querySelectorAll('[data-flag], .wall-row')].flatMap((found) =>
          found instanceof HTMLElement
            ? (found.dataset.flags?.split('\n') ?? [`${found.dataset.level}:${found.dataset.flag}`])
            : [],
        )
      : [],
  );
  if (page === 'job' || page === 'card') {
    toldFlags = undefined;
    void refresh('');
  }
  listen();
  setInterval(() => void checkContact(), ASK_EVERY);
  document.addEventListener('visibilitychange', () => {
    // A browser opens six connections to one place at most: pages out of sight ask now and then instead.
    if (document.visibilityState === 'hidden') source?.close();
    else void checkContact();
  });
  document.addEventListener('unreached', () => void checkContact());
}

/** Draws the page again, but not over and over where an old page is all that comes. */
function reloadOnce() {
  const last = Number(sessionStorage.getItem('chargehand-reloaded') ?? 0);
  if (Date.now() - last < 10_000) return;
  sessionStorage.setItem('chargehand-reloaded', String(Date.now()));
  location.reload();
}

/**
 * @param {string} id
 * @param {{ job: string, says: string }[]} flags
 * @param {string} word
 */
function tell(id, flags, word) {
  const region = byId(id);
  if (region === null) return;
  region.textContent = flags.map(({ job, says }) => `${word}. Job ${job}. ${says}`).join(' ');
}

/**
 * Replaces a part of the page, unless nothing in it changed; an open sheet and the focus stay where they are.
 * @param {string} id
 * @param {string} markup
 */
function replace(id, markup) {
  const before = byId(id);
  const after = element(markup);
  if (before === null || after === undefined || before.isEqualNode(after)) return;
  const focused = document.activeElement;
  const mark = focused instanceof HTMLElement && before.contains(focused) ? focusMark(focused) : '';
  redraw(before, after);
  if (mark !== '') {
    const place = byId(id);
    const again = [...(place?.querySelectorAll('button, a') ?? [])].find(
      (found) => found instanceof HTMLElement && focusMark(found) === mark,
    );
    if (again instanceof HTMLElement) again.focus({ preventScroll: true });
  }
}

/** @param {HTMLElement} found */
const focusMark = (found) =>
  found.dataset.tap ?? found.dataset.says ?? found.dataset.open ?? found.getAttribute('href') ?? '';

/**
 * A bay is redrawn where it lies; a new one is put at its place; the others are not moved under the reader's thumb.
 * @param {string} number
 * @param {string | null} markup
 * @param {string[]} order
 */
function putBay(number, markup, order) {
  const bays = byId('bays');
  if (bays === null) return;
  const before = byId(`bay-${number}`);
  if (markup === null) {
    before?.remove();
    return;
  }
  if (before !== null) {
    replace(`bay-${number}`, markup);
    return;
  }
  const bay = element(markup);
  if (bay === undefined) return;
  const after = order.slice(order.indexOf(number) + 1);
  const next = after.map((other) => byId(`bay-${other}`)).find((found) => found !== null);
  bays.insertBefore(bay, next ?? null);
  document.querySelector('.greeting')?.remove();
}
