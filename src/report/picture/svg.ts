// The few things the pictures are drawn with. Every fill has a pattern of its own, so that nothing is told by colour.
export type Mode = 'light' | 'dark';

export type Picture = {
  readonly svg: string;
  /** The same content in words. */
  readonly text: string;
  readonly width: number;
  readonly height: number;
};

export type Inks = {
  readonly paper: string;
  readonly ink: string;
  readonly quiet: string;
  readonly rule: string;
  readonly work: string;
  readonly wait: string;
};

/** Ink on paper at 7:1 or more, quiet words at 4.5:1 or more (WCAG 2.2, 1.4.6 and 1.4.3). */
export const INKS: Readonly<Record<Mode, Inks>> = {
  light: {
    paper: '#ffffff',
    ink: '#15181d',
    quiet: '#4a4f57',
    rule: '#b9bec5',
    work: '#1d4f7c',
    wait: '#7a4a00',
  },
  dark: {
    paper: '#15181d',
    ink: '#f1f2f4',
    quiet: '#b9bec5',
    rule: '#454b54',
    work: '#93bfe6',
    wait: '#e6b45c',
  },
};

/** The width of a telephone; pictures are drawn for it and enlarged as a whole. */
export const PHONE = 360;
export const MARGIN = 12;

export const escaped = (text: string): string =>
  text
    // XML has no place for control characters.
    .replace(/[\p{Cc}\uFFFE\uFFFF]/gu, ' ')
    .replace(
      /[&<>"]/gu,
      (found) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;' })[found] ?? '&quot;',
    );

/** Tenths of a unit are finer than a screen shows. */
export const px = (value: number): string => String(Math.round(value * 10) / 10);

/** Sizes of words: in a thread a picture is drawn at three quarters of its size, and must be read there too. */
export const TEXT = 14;
export const SMALL = 12.5;

/** Cut to a width. A character of these fonts is taken as half its size wide: a little above the mean of a sentence. */
export const fitted = (text: string, width: number, size = TEXT): string => {
  const most = Math.max(1, Math.floor(width / (size * 0.5)));
  const letters = [...text];
  return letters.length <= most
    ? text
    : `${letters
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`;
};

export type Words = {
  readonly size?: number;
  readonly bold?: boolean;
  readonly fill?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
  /** Drawn with an edge of the paper's colour, so that lines behind it do not cut through the letters. */
  readonly paper?: string;
};

export const words = (
  x: number,
  y: number,
  text: string,
  { size = TEXT, bold = false, fill, anchor = 'start', paper }: Words = {},
): string =>
  `<text x="${px(x)}" y="${px(y)}" font-size="${size}"${bold ? ' font-weight="bold"' : ''}${fill ? ` fill="${fill}"` : ''}${anchor === 'start' ? '' : ` text-anchor="${anchor}"`}${paper ? ` stroke="${paper}" stroke-width="3" stroke-linejoin="round" paint-order="stroke"` : ''}>${escaped(text)}</text>`;

export type Fill = 'done' | 'planned' | 'waiting';

/** done: full; planned: an outline with slanting lines; waiting: an outline with dots. */
export const bar = (
  fill: Fill,
  x: number,
  y: number,
  width: number,
  height: number,
  inks: Inks,
): string => {
  const line = fill === 'waiting' ? inks.wait : inks.work;
  const paint = fill === 'done' ? inks.work : `url(#${fill})`;
  return `<rect x="${px(x)}" y="${px(y)}" width="${px(Math.max(width, 2))}" height="${px(height)}" fill="${paint}" stroke="${line}" stroke-width="1"/>`;
};

/** The shapes of the levels: stop is a bar, caution a notch, advice a dot. */
export const levelShape = (
  level: 'stop' | 'caution' | 'advice',
  x: number,
  y: number,
  ink: string,
): string => {
  if (level === 'stop')
    return `<rect x="${px(x - 2.5)}" y="${px(y - 7)}" width="5" height="14" fill="${ink}"/>`;
  if (level === 'caution')
    return `<path d="M${px(x - 6)} ${px(y - 6)}h12l-6 12z" fill="none" stroke="${ink}" stroke-width="2"/>`;
  return `<circle cx="${px(x)}" cy="${px(y)}" r="3" fill="${ink}"/>`;
};

export const diamond = (x: number, y: number, ink: string): string =>
  `<path d="M${px(x)} ${px(y - 6)}l6 6l-6 6l-6 -6z" fill="${ink}"/>`;

export const rule = (
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  ink: string,
  dash?: string,
  width = 1,
): string =>
  `<path d="M${px(x1)} ${px(y1)}L${px(x2)} ${px(y2)}" stroke="${ink}" stroke-width="${width}"${dash ? ` stroke-dasharray="${dash}"` : ''}/>`;

/** A quiet field behind everything else: hours in which nobody works. */
export const block = (x: number, y: number, width: number, height: number, inks: Inks): string =>
  `<rect x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(height)}" fill="${inks.rule}" fill-opacity="0.45"/>`;

const patterns = ({ work, wait }: Inks): string =>
  `<defs><pattern id="planned" width="5" height="5" patternUnits="userSpaceOnUse"><path d="M-1 6L6 -1M-1 1L1 -1M4 6L6 4" stroke="${work}" stroke-width="1"/></pattern><pattern id="waiting" width="5" height="5" patternUnits="userSpaceOnUse"><circle cx="2.5" cy="2.5" r="1.2" fill="${wait}"/></pattern></defs>`;

/** The whole picture; `text` goes along for those who do not see it. */
export const picture = (
  title: string,
  text: string,
  height: number,
  inks: Inks,
  parts: readonly string[],
): Picture => ({
  svg: `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${PHONE} ${px(height)}" width="${PHONE}" height="${px(height)}" role="img" aria-labelledby="t d" font-family="Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif" fill="${inks.ink}"><title id="t">${escaped(title)}</title><desc id="d">${escaped(text)}</desc>${patterns(inks)}<rect width="${PHONE}" height="${px(height)}" fill="${inks.paper}"/>${parts.join('')}</svg>\n`,
  text,
  width: PHONE,
  height: Math.round(height * 10) / 10,
});
