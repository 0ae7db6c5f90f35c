// The wall sheet shows whole rows only: what does not fit stands on the next sheet, and the sheets take turns.

const TURN_MS = 15_000;
let sheet = 0;

export function startWall() {
  fitWall();
  setInterval(() => {
    sheet += 1;
    fitWall();
  }, TURN_MS);
  window.addEventListener('resize', fitWall);
}

/** Shows the rows of the sheet whose turn it is; called again whenever the rows are drawn anew. */
export function fitWall() {
  const rows = [...document.querySelectorAll('.wall-row')].filter(
    (row) => row instanceof HTMLElement,
  );
  const told = document.querySelector('.wall-sheets');
  if (!(told instanceof HTMLElement)) return;
  for (const row of rows) row.hidden = false;
  told.textContent = '';
  // A narrow screen is scrolled by hand.
  if (getComputedStyle(document.body).overflowY !== 'hidden') return;
  const list = document.querySelector('.wall-list');
  const top = list?.getBoundingClientRect().top ?? 0;
  const room = window.innerHeight - top - 2.5 * told.getBoundingClientRect().height;
  /** @type {HTMLElement[][]} */
  const sheets = [];
  let from = 0;
  for (const row of rows) {
    const { top: begin, bottom } = row.getBoundingClientRect();
    const now = sheets.at(-1);
    if (now === undefined || bottom - from > room) {
      sheets.push([row]);
      from = begin;
    } else now.push(row);
  }
  if (sheets.length < 2) return;
  const at = sheet % sheets.length;
  for (const row of rows) row.hidden = !sheets[at]?.includes(row);
  told.textContent = `Sheet ${at + 1} of ${sheets.length}`;
}
