import { existsSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawCard } from '../../../src/chat/slack/blocks.ts';
import { homeView } from '../../../src/chat/slack/home.ts';
import * as limits from '../../../src/chat/slack/limits.ts';
import { fieldsFrom, modalOf } from '../../../src/chat/slack/modal.ts';
import type { Action, Block, Card, Field, Form } from '../../../src/desk/card.ts';
import { complaintsAboutHome, complaintsAboutMessage, complaintsAboutView } from './fake/strict.ts';

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
const PUBLISHED = new URL('../../../../shared/schemas/block-kit-limits.json', import.meta.url);

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

/** Every text of a sent view or message against the published list, found by where it stands: written from the list alone. */
const overTheList = (value: unknown, list: Record<string, never>): readonly string[] => {
  const limit = (path: string): number | undefined =>
    path
      .split('.')
      .reduce<unknown>((from, key) => (from as Record<string, unknown> | undefined)?.[key], list) as
      | number
      | undefined;
  const found: string[] = [];
  const most = (path: string, size: number): void => {
    const allowed = limit(path);
    if (allowed === undefined) found.push(`the list has no ${path}`);
    else if (size > allowed) found.push(`${path}: ${size} of ${allowed}`);
  };
  const length = (text: unknown): number =>
    (text as { text?: string } | undefined)?.text?.length ?? 0;
  const walk = (each: unknown): void => {
    if (Array.isArray(each)) {
      each.forEach(walk);
      return;
    }
    if (typeof each !== 'object' || each === null) return;
    const part = each as Record<string, unknown>;
    if (typeof part.block_id === 'string') most('block_id.max_length', part.block_id.length);
    if (typeof part.action_id === 'string') most('action_id.max_length', part.action_id.length);
    switch (part.type) {
      case 'header':
        most('header.text.max_length', length(part.text));
        break;
      case 'section':
        most('section.text.max_length', length(part.text));
        break;
      case 'actions':
        most('actions.elements.max_items', (part.elements as unknown[]).length);
        break;
      case 'context':
        most('context.elements.max_items', (part.elements as unknown[]).length);
        break;
      case 'input':
        most('input.label.max_length', length(part.label));
        most('input.hint.max_length', length(part.hint));
        break;
      case 'button': {
        most('button.text.max_length', length(part.text));
        most('button.value.max_length', String(part.value ?? '').length);
        const confirm = part.confirm as Record<string, unknown> | undefined;
        for (const name of ['title', 'text', 'confirm', 'deny'])
          if (confirm) most(`confirmation.${name}.max_length`, length(confirm[name]));
        break;
      }
      case 'static_select':
      case 'multi_static_select':
        if (part.options) most('select.options.max_items', (part.options as unknown[]).length);
        if (part.option_groups)
          most('select.option_groups.max_items', (part.option_groups as unknown[]).length);
        for (const option of (part.options as { text: unknown; value: string }[] | undefined) ??
          []) {
          most('option.text.max_length', length(option.text));
          most('option.value.max_length', option.value.length);
        }
        break;
      case 'modal':
      case 'home':
        most('view.blocks.max_items', (part.blocks as unknown[]).length);
        most('view.private_metadata.max_length', String(part.private_metadata ?? '').length);
        for (const name of ['title', 'submit', 'close'])
          most(`view.${name}.max_length`, length(part[name]));
        break;
    }
    Object.values(part).forEach(walk);
  };
  walk(value);
  return found;
};

describe.skipIf(!existsSync(PUBLISHED))(
  'what is sent, against the published list (left out where ../shared/schemas is absent)',
  () => {
    const list = () => JSON.parse(readFileSync(PUBLISHED, 'utf8'));
    it('keeps it, whatever a card says, as a message and as a Home tab', () => {
      const published = list();
      fc.assert(
        fc.property(card, (each) => {
          expect(overTheList(drawCard(each, idOf).blocks, published)).toEqual([]);
          expect(overTheList(homeView(each, idOf), published)).toEqual([]);
          expect(complaintsAboutHome(homeView(each, idOf))).toEqual([]);
        }),
        { numRuns: 100 },
      );
    });

    it('keeps it, whatever a form asks', () => {
      const published = list();
      fc.assert(
        fc.property(text, fc.array(field, { minLength: 1, maxLength: 12 }), (title, fields) => {
          const view = modalOf({ title, submit: title, fields }, '{}');
          expect(overTheList(view, published)).toEqual([]);
        }),
        { numRuns: 100 },
      );
    });
  },
);

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
      expect(limits.CONFIRM_TITLE).toBeLessThanOrEqual(list.confirmation.title.max_length);
      expect(limits.CONFIRM_TEXT).toBeLessThanOrEqual(list.confirmation.text.max_length);
      expect(limits.CONFIRM_BUTTON).toBeLessThanOrEqual(list.confirmation.confirm.max_length);
      expect(limits.CONFIRM_BUTTON).toBeLessThanOrEqual(list.confirmation.deny.max_length);
      expect(limits.BLOCK_ID).toBeLessThanOrEqual(list.block_id.max_length);
      expect(limits.OPTION_TEXT).toBeLessThanOrEqual(list.option_group.label.max_length);
      expect(limits.LABEL_LENGTH).toBeLessThanOrEqual(list.input.hint.max_length);
      expect(limits.SELECT_OPTIONS).toBeLessThanOrEqual(list.select.options.max_items);
      expect(limits.OPTION_GROUPS).toBeLessThanOrEqual(list.select.option_groups.max_items);
      expect(limits.INPUT_LENGTH).toBeLessThanOrEqual(list.plain_text_input.max_length.max);
    },
  );
});
