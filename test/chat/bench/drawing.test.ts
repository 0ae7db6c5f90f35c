// Drawing: nothing that people type becomes markup, and the levels are told by word.
import { describe, expect, it } from 'vitest';
import { bayMarkup, needsMarkup, waitWords } from '../../../src/chat/bench/draw/bay.ts';
import { entryMarkup } from '../../../src/chat/bench/draw/entry-line.ts';
import { formMarkup } from '../../../src/chat/bench/draw/form.ts';
import { escapeText, html } from '../../../src/chat/bench/draw/html.ts';
import { cardMarkup, stateStrip } from '../../../src/chat/bench/draw/job-page.ts';
import { countWords, whatWords } from '../../../src/chat/bench/draw/level.ts';
import { pageMarkup } from '../../../src/chat/bench/draw/page.ts';
import { type Frame, timeWords } from '../../../src/chat/bench/draw/time-words.ts';
import { wallSheet } from '../../../src/chat/bench/draw/wall-page.ts';
import { adviceFlag, cautionFlag, job1042, OPEN_FORM, stopFlag } from './fake-view.ts';

const frame: Frame = {
  workshop: 'Harrow Lane depot',
  zone: 'Europe/London',
  now: '2025-03-04T10:42:00Z',
  who: 'Sam',
  people: ['Sam', 'Kim'],
  hasPlans: true,
  hasDemo: true,
};

const ATTACK = `<img src=x onerror="alert(1)"> ' & </textarea><script>`;

describe('a flag in few words', () => {
  it.each([
    ['Skipped: "Drain the coolant". It needs that first.', 44, 'Skipped: "Drain the coolant".'],
    [
      'Out of limits: "Tighten the wheel nuts, stage 2", front left: 700 N·m.',
      50,
      'Out of limits: "Tighten the wheel nuts, stage 2" and more',
    ],
    ['Word after word after word without a comma in it at all.', 20, 'Word after word and more'],
  ])('%s', (says, most, short) => {
    expect(whatWords(says, most)).toBe(short);
  });
});

describe('what stands before closing a job', () => {
  it('is named, up to eight things, and the rest counted', () => {
    const closeNeeds = Array.from({ length: 11 }, (_, at) => `"Step ${at}" is open`);
    const { markup } = needsMarkup({ ...job1042, closeNeeds });
    expect(markup.match(/<li>/g)).toHaveLength(9);
    expect(markup).toContain('and 3 more');
    expect(needsMarkup(job1042).markup).toBe('');
  });
});

describe('escaping', () => {
  it.each([
    ['<b>', '&lt;b&gt;'],
    [`"'&`, '&quot;&#39;&amp;'],
    ['a\u0000b\u001b[31m', 'a\u2400b\u241b[31m'],
    ['28 L\u202edeniard', '28 L\ufffddeniard'],
    ['half a pair \ud800 stays', 'half a pair \ufffd stays'],
    ['two\nlines\tkept', 'two\nlines\tkept'],
    ['12 N·m, 30 °C, Żółć', '12 N·m, 30 °C, Żółć'],
  ])('%j is drawn as %j', (text, drawn) => {
    expect(escapeText(text)).toBe(drawn);
  });

  it('escapes texts in lists and passes markup made by the template', () => {
    const items = ['<a>', html`<b>${'<i>'}</b>`];
    expect(html`<p>${items}</p>`.markup).toBe('<p>&lt;a&gt;<b>&lt;i&gt;</b></p>');
  });

  it.each([
    [
      'a message',
      () => entryMarkup({ id: 'm-1', thread: null, at: frame.now, by: 'Sam', text: ATTACK }, frame),
    ],
    [
      'a name',
      () => entryMarkup({ id: 'm-1', thread: null, at: frame.now, by: ATTACK, text: 'x' }, frame),
    ],
    [
      'a card',
      () =>
        entryMarkup(
          {
            id: 'p-1',
            thread: null,
            at: frame.now,
            card: {
              text: ATTACK,
              title: ATTACK,
              blocks: [
                { kind: 'text', text: ATTACK },
                { kind: 'facts', rows: [[ATTACK, ATTACK]] },
                { kind: 'list', items: [ATTACK] },
                { kind: 'caution', text: ATTACK },
              ],
              actions: [
                { label: ATTACK, weight: 'main', intent: { do: 'say', job: ATTACK, text: ATTACK } },
              ],
              tells: [ATTACK],
              picture: { svg: ATTACK, alt: ATTACK },
            },
          },
          frame,
        ),
    ],
    [
      'a job',
      () =>
        cardMarkup(
          {
            ...job1042,
            job: ATTACK,
            vehicle: ATTACK,
            complaint: ATTACK,
            vehicleState: [ATTACK],
            waits: [ATTACK],
            flags: [{ ...stopFlag, says: ATTACK }],
          },
          frame,
        ),
    ],
    [
      'a form',
      () =>
        formMarkup(
          {
            title: ATTACK,
            submit: ATTACK,
            fields: OPEN_FORM.fields.map((field) => ({
              ...field,
              name: ATTACK,
              label: ATTACK,
              hint: ATTACK,
              value: ATTACK,
              choices: [{ value: ATTACK, label: ATTACK }],
            })),
          },
          { do: 'open-job' },
          ATTACK,
        ),
    ],
  ])('%s full of markup opens no element of its own', (_name, draw) => {
    const { markup } = draw();
    expect(markup).toContain('&lt;img src=x');
    expect(markup).not.toMatch(/<img src=x/);
    expect(markup).not.toMatch(/<script|<\/textarea><script/);
    // Every attribute's quotes pair up: an odd number would mean that a text broke out of one.
    for (const tag of markup.match(/<[a-z][^<>]*>/g) ?? []) {
      expect((tag.match(/"/g) ?? []).length % 2, tag).toBe(0);
    }
  });
});

describe('what is drawn', () => {
  it('says the level in words on a flag', () => {
    const drawn = cardMarkup(
      { ...job1042, flags: [adviceFlag, stopFlag, cautionFlag] },
      frame,
    ).markup;
    const order = ['Stop</strong>', 'Caution</strong>', 'Advice</strong>'].map((word) =>
      drawn.indexOf(word),
    );
    expect(order.every((at) => at > 0)).toBe(true);
    expect(order).toEqual([...order].sort((a, b) => a - b));
  });

  it.each([
    [[], undefined],
    [['stop'], '1 stop'],
    [['stop', 'stop', 'caution'], '2 stops, 1 caution'],
    [['advice', 'advice'], '2 pieces of advice'],
  ] as const)('%j is counted as %j', (levels, words) => {
    expect(countWords(levels.map((level) => ({ level })))).toBe(words);
  });

  it.each([
    // British summer time began on 30 March 2025: 10:40 UTC is 10:40 before it and 11:40 after it.
    ['2025-03-04T10:40:00Z', '2025-03-04T12:00:00Z', '10:40'],
    ['2025-03-31T10:40:00Z', '2025-03-31T12:00:00Z', '11:40'],
    ['2025-03-03T10:40:00Z', '2025-03-04T12:00:00Z', 'Mon 3 Mar, 10:40'],
    ['2024-12-31T10:40:00Z', '2025-03-04T12:00:00Z', 'Tue 31 Dec 2024, 10:40'],
    // Two minutes past midnight in London is the day before in UTC.
    ['2025-06-01T23:02:00Z', '2025-06-02T08:00:00Z', '00:02'],
    ['soon', '2025-03-04T12:00:00Z', 'soon'],
  ])('%s seen at %s reads %s', (at, now, words) => {
    expect(timeWords(at, { zone: 'Europe/London', now })).toBe(words);
  });

  it.each([
    ['STOP, job 1043, coach 88', 'Job 1043, coach 88'],
    ['Stop', 'Stop'],
    ['Stopped water pump', 'Stopped water pump'],
  ])('the title "%s" under the word Stop is drawn as "%s"', (title, drawn) => {
    const card = { text: 'x', title, level: 'stop', blocks: [] } as const;
    expect(entryMarkup({ id: 'p-1', thread: null, at: frame.now, card }, frame).markup).toContain(
      `<h2 class="line-title">${drawn}</h2>`,
    );
  });

  it('stamps a recorded message with the word "noted" and keeps its place free before', () => {
    const said = { id: 'm-1', thread: null, at: frame.now, by: 'Sam', text: 'drained 28 L' };
    expect(entryMarkup(said, frame).markup).toContain('<span class="mark"></span>');
    expect(entryMarkup({ ...said, mark: 'recorded' }, frame).markup).toContain('>noted</span>');
  });

  it("offers amending on one's own message only", () => {
    const said = { id: 'm-1', thread: null, at: frame.now, text: 'drained 28 L' };
    expect(entryMarkup({ ...said, by: 'Sam' }, frame).markup).toContain('data-amend="m-1"');
    expect(entryMarkup({ ...said, by: 'Kim' }, frame).markup).not.toContain('data-amend');
  });

  it.each([
    ['2025-03-04T13:00:00Z', 'Promised 13:00'],
    ['2025-03-04T10:00:00Z', '<strong class="late">Late since 10:00</strong>'],
    ['2025-03-03T13:00:00Z', '<strong class="late">Late since Mon 3 Mar, 13:00</strong>'],
  ])(
    'a job promised for %s is marked "%s" in the yard and on the wall at 10:42',
    (promised, words) => {
      const job = { ...job1042, promised };
      expect(bayMarkup(job, frame).markup).toContain(words);
      expect(wallSheet([job], frame).markup).toContain(words);
    },
  );

  it('the job page says late in its card', () => {
    const late = cardMarkup({ ...job1042, promised: '2025-03-04T10:00:00Z' }, frame).markup;
    expect(late).toContain('<strong class="late">late since 10:00</strong>');
    const early = cardMarkup({ ...job1042, promised: '2025-03-04T13:00:00Z' }, frame).markup;
    expect(early).not.toContain('late since');
  });

  it.each([
    [['an answer: Which cylinder?'], 2, 'an answer: Which cylinder?'],
    [
      ['an answer: Which cylinder?', 'parts (Sam)', 'release'],
      1,
      'an answer: Which cylinder? 2 more things too.',
    ],
    [['parts (Sam)', 'release'], 1, 'parts (Sam). 1 more thing too.'],
    [['parts (Sam)'], 1, 'parts (Sam).'],
  ])('%j, %i shown, reads "%s"', (waits, shown, words) => {
    expect(waitWords(waits, shown)).toBe(words);
  });

  it('writes the unit of a field as people do', () => {
    const form = (unit: string) =>
      formMarkup(
        {
          title: 'T',
          submit: 'S',
          fields: [{ name: 'f', label: 'Figure', kind: 'number', required: true, unit }],
        },
        { do: 'open-job' },
      ).markup;
    expect(form('Cel')).toContain('Figure<span class="unit">, in °C</span>');
    expect(form('N.m')).toContain(', in N·m<');
    expect(form('count')).not.toContain(', in ');
  });

  it('marks the field that does not fit, with what is wrong before its hint', () => {
    const drawn = formMarkup(
      {
        title: 'T',
        submit: 'S',
        fields: [
          { name: 'a', label: 'A', kind: 'text', required: true, hint: 'Wrong.\nAs a hint.' },
          { name: 'b', label: 'B', kind: 'text', required: true, hint: 'As a hint.' },
        ],
      },
      { do: 'open-job' },
    ).markup;
    expect(drawn).toMatch(/<strong class="wrong">Wrong\.<\/strong> As a hint\./);
    expect(drawn).toMatch(/name="a"[^>]* aria-invalid="true"/);
    expect(drawn).not.toMatch(/name="b"[^>]* aria-invalid/);
  });

  it('shows both times of a post that came long after what it speaks of', () => {
    const card = { text: 'x', blocks: [] } as const;
    const entry = { id: 'p-1', thread: null, at: '2025-03-04T10:40:00Z', card };
    const alone = entryMarkup(entry, frame).markup;
    expect(alone).toContain('>10:40</time>');
    expect(alone).not.toContain('posted 1');
    const late = entryMarkup({ ...entry, of: '2025-03-03T06:40:00Z' }, frame).markup;
    expect(late).toContain('>Mon 3 Mar, 06:40</time>');
    expect(late).toContain('posted 10:40');
  });

  it('shows every unsafe state in the strip above the thread', () => {
    const vehicleState = ['Coolant out', 'On stands', 'Battery off', 'Brakes open', 'Fuel open'];
    const strip = stateStrip({ ...job1042, vehicleState }).markup;
    for (const state of vehicleState) expect(strip).toContain(state);
  });

  it('leads the first tabs to the message, the flags and the page', () => {
    const parts = { title: 'T', kind: 'job', since: '', contact: '', body: '' } as const;
    const links = [...pageMarkup(parts, frame).matchAll(/class="skip" href="([^"]+)"/g)];
    expect(links.map(([, href]) => href)).toEqual(['#words', '#rail', '#main']);
  });
});
