// Cards for Teams: within the platform's limits and schema, and inert whatever people wrote.
import { existsSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawCard } from '../../../src/chat/teams/adaptive-card.ts';
import { MOST_BYTES } from '../../../src/chat/teams/limits.ts';
import type { Action, Card, Field } from '../../../src/desk/card.ts';
import { complaintsAbout } from './fake/strict.ts';

const SCHEMA = new URL(
  '../../../../shared/schemas/adaptive-card.1.5.0.schema.json',
  import.meta.url,
);
const hasSchema = existsSync(SCHEMA);

const sent = (card: Card) => {
  const drawn = drawCard(card, [{ name: 'Robin', id: 'r-1' }], 'job|1');
  return {
    type: 'message',
    summary: drawn.summary,
    attachments: [{ contentType: 'application/vnd.microsoft.card.adaptive', content: drawn.card }],
  };
};

const text = fc.oneof(
  fc.string({ maxLength: 300, unit: 'binary' }),
  fc.constantFrom('', '<at>everyone</at>', '[x](https://evil.example)', '**b**', '\u202eabc'),
  fc.string({ maxLength: 9_000 }),
);
const field: fc.Arbitrary<Field> = fc.record({
  name: fc.constantFrom('reason', 'figure', 'positions', 'when'),
  label: text,
  kind: fc.constantFrom('text', 'long-text', 'number', 'choice', 'choices', 'date-time'),
  required: fc.boolean(),
  choices: fc.array(fc.record({ value: fc.constantFrom('a', 'b'), label: text }), { maxLength: 4 }),
  value: fc.constantFrom('', 'a', '2026-03-02T09:00:00Z'),
});
const action: fc.Arbitrary<Action> = fc
  .record({
    label: text,
    weight: fc.constantFrom('main', 'plain', 'grave'),
    intent: fc.constant({ do: 'acknowledge', job: '1', flag: 'f' } as const),
    form: fc.option(
      fc.record({
        title: text,
        submit: text,
        fields: fc.uniqueArray(field, { maxLength: 4, selector: ({ name }) => name }),
      }),
      { nil: undefined },
    ),
  })
  .map(({ form, ...rest }) => ({ ...rest, ...(form ? { form } : {}) }));
const card: fc.Arbitrary<Card> = fc
  .record({
    text,
    title: fc.option(text, { nil: undefined }),
    level: fc.option(fc.constantFrom('stop', 'caution', 'advice'), { nil: undefined }),
    blocks: fc.array(
      fc.oneof(
        fc.record({ kind: fc.constant('text' as const), text }),
        fc.record({ kind: fc.constant('caution' as const), text }),
        fc.record({ kind: fc.constant('list' as const), items: fc.array(text, { maxLength: 40 }) }),
        fc.record({
          kind: fc.constant('facts' as const),
          rows: fc.array(fc.tuple(text, text), { maxLength: 40 }),
        }),
      ),
      { maxLength: 8 },
    ),
    actions: fc.array(action, { maxLength: 30 }),
  })
  .map(({ title, level, ...rest }) => ({
    ...rest,
    ...(title === undefined ? {} : { title }),
    ...(level === undefined ? {} : { level }),
  }));

const schemaCheck = () => {
  const plain = JSON.parse(readFileSync(SCHEMA, 'utf8').replace(/"id": "http/u, '"$id": "http'));
  delete plain.$schema;
  return new Ajv({ strict: false, allErrors: false, validateFormats: false }).compile(plain);
};

describe('a card for Teams', () => {
  it('holds every limit whatever it is made of', () => {
    fc.assert(
      fc.property(card, (each) => {
        const activity = sent(each);
        expect(complaintsAbout(activity)).toEqual([]);
        expect(Buffer.byteLength(JSON.stringify(activity))).toBeLessThanOrEqual(MOST_BYTES + 2_500);
      }),
      { numRuns: 150, seed: 7 },
    );
  });

  it.skipIf(!hasSchema)(
    'is good by the published schema (left out where ../shared/schemas is absent)',
    () => {
      const check = schemaCheck();
      expect(check({ type: 'AdaptiveCard', version: '1.5', body: [{ type: 'Nothing' }] })).toBe(
        false,
      );
      fc.assert(
        fc.property(card, (each) => {
          // What Teams itself adds to the schema is not in the published one.
          const { msteams: _, ...published } = sent(each).attachments[0]?.content ?? {};
          expect(check(published), JSON.stringify(check.errors?.slice(0, 2))).toBe(true);
        }),
        { numRuns: 60, seed: 11 },
      );
    },
  );

  it('says what is left out, and keeps the buttons', () => {
    const many: Card = {
      text: 'Open jobs',
      blocks: [
        { kind: 'list', items: Array.from({ length: 400 }, (_, n) => `${n} ${'x'.repeat(90)}`) },
      ],
      actions: [{ label: 'More', weight: 'plain', intent: { do: 'say', text: 'open jobs' } }],
    };
    const drawn = drawCard(many, [], undefined);
    expect(JSON.stringify(drawn.card)).toMatch(/and \d+ more/u);
    expect(drawn.card.actions).toHaveLength(1);
  });

  it('tells levels apart by word and shape', () => {
    const first = (level: 'stop' | 'caution'): string =>
      JSON.stringify(
        (
          drawCard({ text: 'x', title: 'Skipped', level, blocks: [] }, [], undefined).card
            .body as unknown[]
        )[0],
      );
    expect(first('stop')).toContain('▬▬');
    expect(first('caution')).toContain('◤');
    expect(first('stop')).not.toBe(first('caution'));
  });
});
