import { existsSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawCard } from '../../../src/chat/slack/blocks.ts';
import * as limits from '../../../src/chat/slack/limits.ts';
import { fieldsFrom, modalOf } from '../../../src/chat/slack/modal.ts';
import type { Action, Block, Card, Field, Form } from '../../../src/desk/card.ts';
import { complaintsAboutMessage, complaintsAboutView } from './fake/strict.ts';

const idOf = (name: string) => (name === 'Robin' ? 'U0ROBIN1' : undefined);
const NASTY = '<!channel> <@U0ADA001> *bold* & `x` <https://example.org|here>';

const text = fc.oneof(
  fc.string({ maxLength: 40 }),
  fc.string({ unit: 'grapheme', maxLength: 400 }),
  fc.nat({ max: 6_000 }).map((length) => 'drained 28 L & "so" on '.repeat(300).slice(0, length)),
  fc.constant(NASTY),
  fc.constant('\u0000\u202e\n'),
);
const block: fc.Arbitrary<Block> = fc.oneof(
  fc.record({ kind: fc.constant('text' as const), text }),
  fc.record({ kind: fc.constant('caution' as const), text }),
  fc.record({ kind: fc.constant('list' as const), items: fc.array(text, { maxLength: 30 }) }),
  fc.record({
    kind: fc.constant('facts' as const),
    rows: fc.array(fc.tuple(text, text), { maxLength: 20 }),
  }),
);
const action: fc.Arbitrary<Action> = fc.record({
  label: text,
  weight: fc.constantFrom('main', 'plain', 'grave'),
  intent: text.map((said) => ({ do: 'say' as const, job: '1042', text: said })),
});
const card: fc.Arbitrary<Card> = fc.record(
  {
    text,
    title: text,
    level: fc.constantFrom('stop', 'caution', 'advice'),
    blocks: fc.array(block, { maxLength: 60 }),
    actions: fc.array(action, { maxLength: 60 }),
    tells: fc.array(fc.constantFrom('Robin', 'Ada'), { maxLength: 5 }),
  },
  { requiredKeys: ['text', 'blocks'] },
);

const SENT = 10_000;

describe('a card as blocks', () => {
  it('keeps every limit, whatever the card says', () => {
    fc.assert(
      fc.property(card, (each) => {
        const drawn = drawCard(each, idOf);
        expect(complaintsAboutMessage(drawn)).toEqual([]);
        expect(drawn.blocks.length).toBeLessThanOrEqual(45);
        expect(JSON.stringify(drawn.blocks).length).toBeLessThanOrEqual(SENT);
      }),
      { numRuns: 300 },
    );
  });

  it('shows a short card whole', () => {
    const drawn = drawCard(
      {
        text: 'STOP. Skipped: "Drain the coolant".',
        title: 'STOP, job 1042, bus 17',
        level: 'stop',
        blocks: [
          { kind: 'text', text: 'Skipped: "Drain the coolant".' },
          { kind: 'facts', rows: [['Vehicle now', 'fuel system open']] },
          { kind: 'list', items: ['one', 'two'] },
          { kind: 'caution', text: 'Hot coolant scalds.' },
        ],
        actions: [
          {
            label: 'I have seen it',
            weight: 'main',
            intent: { do: 'acknowledge', job: '1042', flag: 'f' },
          },
        ],
        tells: ['Robin', 'Ada'],
      },
      idOf,
    );
    expect(drawn.text).toBe('STOP. Skipped: "Drain the coolant". <@U0ROBIN1>');
    expect(drawn.blocks.map((each) => each.type)).toEqual([
      'header',
      'section',
      'rich_text',
      'rich_text',
      'rich_text',
      'section',
      'actions',
    ]);
    expect(drawn.blocks[0]).toMatchObject({ text: { text: '▬▬ STOP, job 1042, bus 17' } });
    expect(drawn.blocks[5]).toMatchObject({ text: { type: 'mrkdwn', text: 'For <@U0ROBIN1>' } });
    expect(drawn.blocks[6]).toMatchObject({
      elements: [
        {
          action_id: 'tap.0',
          value: '{"do":"acknowledge","job":"1042","flag":"f"}',
          text: { text: 'I have seen it' },
        },
      ],
    });
  });

  it('tells the three levels apart by word and by shape', () => {
    const heads = (['stop', 'caution', 'advice'] as const).map((level) => {
      const [head] = drawCard({ text: 'x', title: 'Job 1042', level, blocks: [] }, idOf).blocks;
      return head?.type === 'header' ? head.text.text : '';
    });
    expect(heads).toEqual(['▬▬ STOP: Job 1042', '◤ Caution: Job 1042', '• Advice: Job 1042']);
  });

  it('shortens a long list and says how many are left', () => {
    const items = Array.from({ length: 212 }, (_, index) => `step ${index} ${'x'.repeat(180)}`);
    const drawn = drawCard({ text: 'x', blocks: [{ kind: 'list', items }] }, idOf);
    const all = JSON.stringify(drawn.blocks);
    const shown = items.filter((item) => all.includes(`"${item}"`)).length;
    expect(shown).toBeGreaterThan(10);
    expect(all).toContain(`and ${212 - shown} more`);
  });

  it('keeps the buttons under a text that is too long', () => {
    const drawn = drawCard(
      {
        text: 'x',
        blocks: [{ kind: 'text', text: 'y'.repeat(100_000) }],
        actions: [{ label: 'Release', weight: 'main', intent: { do: 'open-job' } }],
      },
      idOf,
    );
    expect(drawn.blocks.at(-1)).toMatchObject({ type: 'actions' });
    expect(JSON.stringify(drawn.blocks)).toContain('…');
  });

  it('splits a text of 5,000 characters into sections and loses nothing of it', () => {
    const words = Array.from({ length: 800 }, (_, index) => `w${index}`).join(' ');
    const drawn = drawCard({ text: 'x', blocks: [{ kind: 'text', text: words }] }, idOf);
    const said = drawn.blocks.map((each) =>
      each.type === 'section' && each.text ? each.text.text : '',
    );
    expect(said.length).toBe(2);
    expect(said.join(' ')).toBe(words);
  });

  it('keeps the limits with more buttons than fit, and says how many are left', () => {
    const actions: Action[] = Array.from({ length: 60 }, (_, index) => ({
      label: `Button ${index}`,
      weight: 'plain',
      intent: { do: 'say', job: '1042', text: 'z'.repeat(300) },
    }));
    const drawn = drawCard({ text: 'x', blocks: [{ kind: 'text', text: 'y' }], actions }, idOf);
    const all = JSON.stringify(drawn.blocks);
    expect(all.length).toBeLessThanOrEqual(SENT);
    expect(complaintsAboutMessage(drawn)).toEqual([]);
    const shown = all.split('"type":"button"').length - 1;
    expect(shown).toBeGreaterThan(5);
    expect(all).toContain(`and ${60 - shown} more`);
  });

  it('leaves out a button whose meaning is too long to travel, and says so', () => {
    const drawn = drawCard(
      {
        text: 'x',
        blocks: [],
        actions: [
          { label: 'Long', weight: 'plain', intent: { do: 'say', text: 'z'.repeat(2_000) } },
          { label: 'Short', weight: 'plain', intent: { do: 'open-job' } },
        ],
      },
      idOf,
    );
    const all = JSON.stringify(drawn.blocks);
    expect(all).not.toContain('"Long"');
    expect(all).toContain('"Short"');
    expect(all).toContain('and 1 more');
  });

  it('lets nothing that people wrote mention anybody or pose as a link', () => {
    const drawn = drawCard(
      {
        text: NASTY,
        title: NASTY,
        level: 'stop',
        blocks: [
          { kind: 'text', text: NASTY },
          { kind: 'facts', rows: [[NASTY, NASTY]] },
          { kind: 'list', items: [NASTY] },
          { kind: 'caution', text: NASTY },
        ],
        actions: [{ label: NASTY, weight: 'plain', intent: { do: 'open-job' } }],
        tells: [NASTY],
      },
      idOf,
    );
    expect(drawn.text).not.toMatch(/[<>]/u);
    // Slack reads markup in mrkdwn objects only; there is none here, since nobody known is told.
    expect(JSON.stringify(drawn.blocks)).not.toContain('"mrkdwn"');
  });
});

const field: fc.Arbitrary<Field> = fc.record(
  {
    name: fc.uuid(),
    label: text,
    kind: fc.constantFrom('text', 'long-text', 'number', 'choice', 'choices', 'date-time'),
    required: fc.boolean(),
    hint: text,
    unit: fc.constant('mm'),
    value: fc.oneof(text, fc.constant('2026-03-02T14:30:00+00:00'), fc.constant('12.5')),
    choices: fc.array(fc.record({ value: fc.string({ maxLength: 200 }), label: text }), {
      maxLength: 230,
    }),
  },
  { requiredKeys: ['name', 'label', 'kind', 'required'] },
);

describe('a form as a modal', () => {
  it('keeps every limit, whatever the form asks', () => {
    fc.assert(
      fc.property(text, fc.array(field, { minLength: 1, maxLength: 12 }), (title, fields) => {
        const view = modalOf({ title, submit: title, fields }, '{}');
        // A form of nothing but empty lists has nothing to fill.
        fc.pre((view?.blocks.length ?? 0) > 0);
        expect(complaintsAboutView(view)).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  it('asks no more than a modal can hold', () => {
    const fields: Field[] = Array.from({ length: 130 }, (_, index) => ({
      name: `f${index}`,
      label: `Field ${index}`,
      kind: 'text',
      required: false,
    }));
    const view = modalOf({ title: 'Long', submit: 'Send', fields }, '{}');
    expect(complaintsAboutView(view)).toEqual([]);
    expect(view?.blocks.length).toBe(100);
  });

  it('is not shown when what travels with it is too long', () => {
    const form: Form = { title: 'x', submit: 'x', fields: [] };
    expect(modalOf(form, 'x'.repeat(3_001))).toBeUndefined();
  });

  it('gives back what was filled in, by the names of the fields', () => {
    expect(
      fieldsFrom({
        reason: { value: { type: 'plain_text_input', value: 'held by a strap' } },
        empty: { value: { type: 'plain_text_input', value: null } },
        plan: { value: { type: 'static_select', selected_option: { value: 'coolant-pump' } } },
        none: { value: { type: 'static_select', selected_option: null } },
        positions: {
          value: {
            type: 'multi_static_select',
            selected_options: [{ value: 'cylinder 1' }, { value: 'cylinder 2' }],
          },
        },
        // 1,772,461,800 s is 2026-03-02 14:30 UTC: 20,514 days of 86,400 s and 52,200 s.
        promised: { value: { type: 'datetimepicker', selected_date_time: 1_772_461_800 } },
      }),
    ).toEqual({
      reason: 'held by a strap',
      plan: 'coolant-pump',
      positions: ['cylinder 1', 'cylinder 2'],
      promised: '2026-03-02T14:30:00.000Z',
    });
  });
});

const PUBLISHED = new URL('../../../../shared/schemas/block-kit-limits.json', import.meta.url);

describe('our limits', () => {
  it.skipIf(!existsSync(PUBLISHED))(
    'are within the published list (left out where ../shared/schemas is absent)',
    () => {
      const list = JSON.parse(readFileSync(PUBLISHED, 'utf8'));
      expect(limits.HEADER_LENGTH).toBeLessThanOrEqual(list.header.text.max_length);
      expect(limits.SECTION_LENGTH).toBeLessThanOrEqual(list.section.text.max_length);
      expect(limits.BUTTON_LENGTH).toBeLessThanOrEqual(list.button.text.max_length);
      expect(limits.VALUE_LENGTH).toBeLessThanOrEqual(list.button.value.max_length);
      expect(limits.ACTIONS_ELEMENTS).toBeLessThanOrEqual(list.actions.elements.max_items);
      expect(limits.VIEW_BLOCKS).toBeLessThanOrEqual(list.view.blocks.max_items);
      expect(limits.VIEW_TITLE).toBeLessThanOrEqual(list.view.title.max_length);
      expect(limits.PRIVATE_METADATA).toBeLessThanOrEqual(list.view.private_metadata.max_length);
      expect(limits.LABEL_LENGTH).toBeLessThanOrEqual(list.input.label.max_length);
      expect(limits.OPTION_TEXT).toBeLessThanOrEqual(list.option.text.max_length);
      expect(limits.OPTION_VALUE).toBeLessThanOrEqual(list.option.value.max_length);
      expect(limits.SELECT_OPTIONS).toBeLessThanOrEqual(list.select.options.max_items);
      expect(limits.OPTION_GROUPS).toBeLessThanOrEqual(list.select.option_groups.max_items);
      expect(limits.INPUT_LENGTH).toBeLessThanOrEqual(list.plain_text_input.max_length.max);
    },
  );
});
