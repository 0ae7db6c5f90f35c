// The lines of the thread: put in, replaced, and the view kept at the end where the reader was at the end.
import { byId, element, redraw } from './ask.js';

/** The part that scrolls: the roll's own column on a wide screen, the page on a phone. */
function scroller() {
  const paper = document.querySelector('.roll-paper');
  if (paper instanceof HTMLElement && getComputedStyle(paper).overflowY === 'auto') return paper;
  return document.scrollingElement ?? document.documentElement;
}

function isAtEnd() {
  const part = scroller();
  return part.scrollHeight - part.scrollTop - part.clientHeight < 120;
}

/** @param {boolean} wholePage whether a phone's page goes to its end too */
export function scrollToEnd(wholePage) {
  const part = scroller();
  if (!wholePage && part === document.scrollingElement) return;
  const down = () => {
    part.scrollTop = part.scrollHeight;
  };
  down();
  // Lines out of sight have an estimated height until they are drawn: go again once they are.
  requestAnimationFrame(() => requestAnimationFrame(down));
}

/**
 * @param {string} id
 * @param {string} markup
 */
export function putLine(id, markup) {
  const roll = byId('roll');
  const line = element(markup);
  if (roll === null || line === undefined) return;
  const wasAtEnd = isAtEnd();
  document.querySelector('.roll-empty')?.remove();
  byId(`w-${id.replace(/^m-/, '')}`)?.remove();
  const before = byId(`e-${id}`);
  if (before === null) {
    line.classList.add('fresh');
    const firstWaiting = roll.querySelector('.waiting');
    roll.insertBefore(line, firstWaiting);
    if (wasAtEnd) scrollToEnd(document.body.dataset.page === 'job');
  } else {
    redraw(before, line);
  }
}

/**
 * A message that is typed and not yet taken: shown as waiting until the bench has it.
 * @param {{ id: string, text: string, typed: number, by: string, refused?: string }} waiting
 * @param {string} when
 */
export function putWaiting(waiting, when) {
  const roll = byId('roll');
  if (roll === null) return;
  const line = document.createElement('li');
  line.className =
    waiting.refused === undefined ? 'line said waiting' : 'line said waiting refused';
  line.id = `w-${waiting.id}`;
  const at = document.createElement('span');
  at.className = 'at';
  at.textContent = when;
  const what = document.createElement('div');
  what.className = 'what';
  const by = document.createElement('span');
  by.className = 'by';
  by.textContent = waiting.by;
  const text = document.createElement('p');
  text.className = 'text';
  text.dir = 'auto';
  text.textContent = waiting.text;
  const state = document.createElement('p');
  state.className = 'small';
  state.textContent = waiting.refused ?? 'on its way';
  what.append(by, text, state);
  const mark = document.createElement('span');
  mark.className = 'mark';
  line.append(at, what, mark);
  const before = byId(line.id);
  if (before === null) {
    document.querySelector('.roll-empty')?.remove();
    roll.append(line);
    scrollToEnd(document.body.dataset.page === 'job');
  } else {
    before.replaceWith(line);
  }
  return line;
}
