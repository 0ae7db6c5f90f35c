import { describe, expect, it } from 'vitest';
import { hoursAheadPicture } from '../../src/report/picture/hours-ahead.ts';
import { fitted, INKS, MARGIN, PHONE } from '../../src/report/picture/svg.ts';
import { ticks } from '../../src/report/picture/time-axis.ts';
import { timelinePicture } from '../../src/report/picture/timeline.ts';
import { workCalendar } from '../../src/trade/work-calendar.ts';
import { act, at, done, opened, says } from '../job/story.ts';
import { valueIn } from '../trade/unwrap.ts';
import { PLAN, viewOf, WORK, ZONE } from './story.ts';

type Box = { readonly fill: string; readonly x: number; readonly width: number };
const bars = (svg: string): readonly Box[] =>
  [
    ...svg.matchAll(
      /<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="\d+" fill="([^"]+)" stroke/gu,
    ),
  ].map(([, x, width, fill]) => ({ x: Number(x), width: Number(width), fill: fill ?? '' }));
const textsOf = (svg: string): readonly string[] =>
  [...svg.matchAll(/<text [^>]*>([^<]*)<\/text>/gu)].map(([, text]) => text ?? '');

/** Every element is closed in order, and nothing but our few elements occurs: enough of XML for what is drawn. */
const balanced = (svg: string): boolean => {
  const open: string[] = [];
  for (const [, close, name = '', self] of svg.matchAll(/<(\/?)([a-z]+)[^<>]*?(\/?)>/gu)) {
    if (self === '/') continue;
    if (close !== '/') open.push(name);
    else if (open.pop() !== name) return false;
  }
  return open.length === 0 && !/<[^/a-z]/u.test(svg) && !/&(?!amp;|lt;|gt;|quot;)/u.test(svg);
};

const OPTIONS = { now: at('10:00'), zone: ZONE };
/** A job of 06:00 to 12:00 by its promise, in which one of two cylinders is fitted and a part is waited for. */
const events = [
  opened({
    at: at('06:00'),
    plan: { id: 'test-plan', title: 'Test plan', hash: PLAN.hash, text: PLAN.text },
    positions: ['cylinder 1', 'cylinder 3'],
    promised: at('12:00'),
    vehicle: { name: 'Bus <7> & co' },
  }),
  ...says('a', '07:00', 'Sam', [done('drain', { quantity: { value: 28, unit: 'L' } })]),
  ...says('b', '08:00', 'Sam', [act('blocked', undefined, { note: 'no washers in the stores' })]),
];
const timeline = timelinePicture(viewOf(events), events, OPTIONS);

describe('the timeline of a job', () => {
  it('is well formed, whatever the vehicle is called', () => {
    expect(balanced(timeline.svg)).toBe(true);
    expect(textsOf(timeline.svg)).toContain('Job 1042, Bus &lt;7&gt; &amp; co');
  });

  it('sets the planned times one after the other from the opening', () => {
    const planned = bars(timeline.svg).filter(({ fill }) => fill === 'url(#planned)');
    // The axis runs from 06:00 to 12:00 over 360 - 24 = 336 units: 336 / 360 min = 0.9333 for a minute. The first bar
    // is the legend's. Make safe 5 min, strip 25 min, refit 12 min; what has no time has no bar.
    expect(planned.slice(1).map(({ x, width }) => [x, width])).toEqual([
      [12, 4.7],
      [16.7, 23.3],
      [40, 11.2],
    ]);
  });

  it('draws what waits from the time it was said until now', () => {
    const waiting = bars(timeline.svg).filter(({ fill }) => fill === 'url(#waiting)');
    // 08:00 is 120 min in: 12 + 112 = 124; until 10:00 another 112.
    expect(waiting.slice(1)).toEqual([{ fill: 'url(#waiting)', x: 124, width: 112 }]);
  });

  it('says the same in words', () => {
    expect(timeline.text.split('\n')).toEqual([
      'Job 1042, Bus <7> & co: Test plan.',
      'Make safe: 0 of 1 done; planned 5 min, 06:00 to 06:05; no report yet.',
      'Strip: 1 of 1 done; planned 25 min, 06:05 to 06:30; reported from 07:00 to 07:00.',
      'Inspect: 0 of 2 done; no time planned; no report yet.',
      'Refit: 0 of 7 done; planned 12 min, 06:30 to 06:42; no report yet.',
      'Prove: 0 of 1 done; no time planned; no report yet.',
      'Hand back: 0 of 1 done; no time planned; no report yet.',
      'Waits since 08:00: no washers in the stores.',
      'Now: 10:00; promised 12:00.',
    ]);
    expect(timeline.svg).toContain('<desc id="d">Job 1042, Bus &lt;7&gt; &amp; co: Test plan.');
  });

  it('tells the levels by shape and word', () => {
    const { svg, text } = timelinePicture(viewOf(WORK), WORK, OPTIONS);
    // A bar of 5 by 14 for stop, a notch of 12 for caution, each on the line below its words.
    expect(svg).toMatch(/width="5" height="14"/u);
    expect(svg).toMatch(/h12l-6 12z/u);
    expect(textsOf(svg).some((words) => /^Flags, stop: \d+ raised, \d+ open$/u.test(words))).toBe(
      true,
    );
    expect(text).toMatch(/Caution: \d+ raised, \d+ open\./u);
  });

  it('draws a wait that is over from its beginning to its end', () => {
    const over = [
      ...events,
      ...says('c', '09:00', 'Sam', [act('resumed', undefined, { note: 'washers are here' })]),
    ];
    const made = timelinePicture(viewOf(over), over, OPTIONS);
    const waiting = bars(made.svg).filter(({ fill }) => fill === 'url(#waiting)');
    // 60 minutes at 336 / 360 of a unit each.
    expect(waiting.slice(1)).toEqual([{ fill: 'url(#waiting)', x: 124, width: 56 }]);
    expect(made.text).toContain('Waited 08:00 to 09:00: no washers in the stores.');
  });

  it('draws a night as a narrow gap, and marks when the job will be ready', () => {
    const day = { name: 'day', from: '06:00', to: '14:00' };
    const calendar = valueIn(workCalendar({ zone: ZONE, week: { tue: [day], wed: [day] } }));
    const tomorrow = new Date(Date.parse(at('10:00')) + 86_400_000).toISOString();
    const made = timelinePicture(viewOf(events), events, {
      ...OPTIONS,
      calendar,
      ready: { likely: at('12:00'), cautious: tomorrow },
    });
    // Tuesday 06:00 to 14:00 and Wednesday 06:00 to 10:00, 12 hours on 336 less the gap of 10: 27.1667 for an hour.
    // The night begins after 8 hours: 12 + 217.33.
    expect(made.svg).toMatch(/<rect x="229\.3" y="68" width="10" [^>]*fill-opacity/u);
    expect(made.text).toContain('Ready 12:00, cautiously Wednesday 10:00.');
    // The diamond at six hours, 12 + 163; the bar at the right edge.
    expect(made.svg).toMatch(/<path d="M175 [\d.]+l6 6l-6 6l-6 -6z"/u);
    expect(made.svg).toMatch(/<path d="M348 [\d.]+L348 [\d.]+" stroke="#15181d" stroke-width="3"/u);
    expect(textsOf(made.svg)).toContain('Wed 06:00');
  });

  it('says the same in light and dark', () => {
    const dark = timelinePicture(viewOf(events), events, { ...OPTIONS, mode: 'dark' });
    expect(textsOf(dark.svg)).toEqual(textsOf(timeline.svg));
    expect(dark.text).toBe(timeline.text);
    expect(dark.svg).not.toBe(timeline.svg);
  });
});

describe('the hours ahead of all open jobs', () => {
  const late = [
    opened({
      job: '7',
      at: at('06:00'),
      promised: at('09:00'),
      positions: ['cylinder 1', 'cylinder 3'],
    }),
  ];
  const closed = [
    opened({ job: '8' }),
    { id: 'c', at: at('09:00'), by: 'Wen', kind: 'job-closed' as const },
  ];
  const views = [viewOf(events), viewOf(late), viewOf(closed)];
  const made = hoursAheadPicture(views, OPTIONS);

  it('lists open jobs, the late one first, with what is ahead and done', () => {
    // All of it is 5 + 25 + 2 x 6 = 42 min; with the draining done 17 are ahead.
    expect(made.text.split('\n')).toEqual([
      'Hours ahead, 2 open jobs.',
      '7 Bus 7: 42 min ahead, 0 min done. LATE, promised 09:00.',
      '1042 Bus <7> & co: 17 min ahead, 25 min done. promised 12:00 · waits.',
    ]);
  });

  it('draws bars in proportion', () => {
    // 336 units for 42 minutes: 25 done are 200, 17 ahead are 136. The first two bars are the legend's.
    expect(
      bars(made.svg)
        .slice(2)
        .map(({ x, width }) => [x, width]),
    ).toEqual([
      [12, 336],
      [12, 200],
      [212, 136],
    ]);
    expect(balanced(made.svg)).toBe(true);
  });

  it('counts the jobs it has no room for', () => {
    const many = Array.from({ length: 20 }, (_, index) =>
      viewOf([opened({ job: String(index), positions: ['cylinder 1'] })]),
    );
    expect(hoursAheadPicture(many, OPTIONS).text).toContain('and 6 more, less urgent.');
    expect(hoursAheadPicture([], OPTIONS).text).toContain('No job is open.');
  });
});

describe('what both are drawn with', () => {
  it.each(['svg', 'dark'])('fits the width of a telephone (%s)', (mode) => {
    const { svg, width } = timelinePicture(viewOf(WORK), WORK, {
      ...OPTIONS,
      mode: mode === 'dark' ? 'dark' : 'light',
    });
    expect(width).toBe(PHONE);
    for (const { x, width: wide } of bars(svg))
      expect(x + wide).toBeLessThanOrEqual(PHONE - MARGIN + 2);
    for (const [, size] of svg.matchAll(/font-size="([\d.]+)"/gu))
      expect(Number(size)).toBeGreaterThanOrEqual(12);
  });

  /** Contrast of two colours. Source: WCAG 2.2, relative luminance and contrast ratio. */
  const luminance = (hex: string): number => {
    const [r = 0, g = 0, b = 0] = [1, 3, 5].map((from) => {
      const part = Number.parseInt(hex.slice(from, from + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (a: string, b: string): number => {
    const [low = 0, high = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (high + 0.05) / (low + 0.05);
  };

  it.each(['light', 'dark'] as const)('has ink and bars that stand out (%s)', (mode) => {
    const { paper, ink, quiet, work, wait } = INKS[mode];
    expect(contrast(ink, paper)).toBeGreaterThan(7);
    expect(contrast(quiet, paper)).toBeGreaterThan(4.5);
    expect(contrast(work, paper)).toBeGreaterThan(3);
    expect(contrast(wait, paper)).toBeGreaterThan(3);
  });

  it('cuts long words with a mark', () => {
    // 60 units hold ten characters of size 12 at half their size each.
    expect(fitted('0123456789', 60, 12)).toBe('0123456789');
    expect(fitted('01234567890', 60, 12)).toBe('012345678…');
  });

  it.each([
    // Berlin changes its clocks on 29 March 2026 at 02:00; ticks stay at round times of day.
    [
      '2026-03-29T00:00:00+01:00',
      '2026-03-29T09:00:00+02:00',
      ['00:00', '03:00', '05:00', '07:00', '09:00'],
    ],
    [
      '2026-05-12T06:00:00+02:00',
      '2026-05-12T12:00:00+02:00',
      ['06:00', '08:00', '10:00', '12:00'],
    ],
    [
      '2026-05-12T06:00:00+02:00',
      '2026-05-16T06:00:00+02:00',
      ['13 May', '14 May', '15 May', '16 May'],
    ],
  ])('ticks from %s to %s', (from, to, expected) => {
    expect(
      ticks(Date.parse(from), Date.parse(to), 'Europe/Berlin').map(({ says: words }) => words),
    ).toEqual(expected);
  });
});
