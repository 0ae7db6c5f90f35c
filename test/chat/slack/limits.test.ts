// Our limits against the platform's own words: the comments of the types it publishes. Where two of its pages differ, ours is
// the lower one.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import * as all from '../../../src/chat/slack/limits.ts';

const limits: Readonly<Record<string, number>> = { ...all };
const TYPES = dirname(createRequire(import.meta.url).resolve('@slack/types'));

/** The largest number that the comment before a field names as a maximum. */
const commented = (file: string, type: string, field: string): number => {
  const text = readFileSync(join(TYPES, `${file}.d.ts`), 'utf8');
  const start = text.search(new RegExp(`interface ${type}\\b`, 'u'));
  if (start < 0) throw new Error(`There is no ${type} in ${file}.`);
  const body = text.slice(start, text.indexOf('\n}', start));
  const at = body.search(new RegExp(`\\n    ${field}\\??:`, 'u'));
  if (at < 0) throw new Error(`${type} has no ${field}.`);
  const comment = body.slice(body.lastIndexOf('/**', at), at).replace(/\s+\*?\s*/gu, ' ');
  const said = /max(?:imum)?\b[^.]*?(\d+)/iu.exec(comment)?.[1];
  if (said === undefined) throw new Error(`${type}.${field} names no maximum: ${comment}`);
  return Number(said);
};

const BLOCKS = 'block-kit/blocks';
const ELEMENTS = 'block-kit/block-elements';
const PARTS = 'block-kit/composition-objects';

describe('no limit of ours is above the platform’s', () => {
  it.each([
    ['HEADER_LENGTH', BLOCKS, 'HeaderBlock', 'text', 150],
    ['SECTION_LENGTH', BLOCKS, 'SectionBlock', 'text', 3_000],
    ['ACTIONS_ELEMENTS', BLOCKS, 'ActionsBlock', 'elements', 25],
    ['BLOCK_ID', BLOCKS, 'Block', 'block_id', 255],
    ['LABEL_LENGTH', BLOCKS, 'InputBlock', 'label', 2_000],
    ['BUTTON_LENGTH', ELEMENTS, 'Button', 'text', 75],
    ['VALUE_LENGTH', ELEMENTS, 'Button', 'value', 2_000],
    ['SELECT_OPTIONS', ELEMENTS, 'StaticSelect', 'options', 100],
    ['OPTION_GROUPS', ELEMENTS, 'StaticSelect', 'option_groups', 100],
    ['SELECT_OPTIONS', PARTS, 'OptionGroup', 'options', 100],
    ['INPUT_LENGTH', ELEMENTS, 'PlainTextInput', 'min_length', 3_000],
    ['CONFIRM_TITLE', PARTS, 'Confirm', 'title', 100],
    ['CONFIRM_TEXT', PARTS, 'Confirm', 'text', 300],
    ['CONFIRM_BUTTON', PARTS, 'Confirm', 'confirm', 30],
    ['CONFIRM_BUTTON', PARTS, 'Confirm', 'deny', 30],
    ['OPTION_TEXT', PARTS, 'PlainTextOption', 'text', 75],
    ['OPTION_VALUE', PARTS, 'OptionDescriptor', 'value', 75],
    ['VIEW_BLOCKS', 'views', 'BaseView', 'blocks', 100],
    ['PRIVATE_METADATA', 'views', 'BaseView', 'private_metadata', 3_000],
    ['VIEW_TITLE', 'views', 'ModalView', 'title', 24],
    ['VIEW_TITLE', 'views', 'ModalView', 'close', 24],
    ['VIEW_TITLE', 'views', 'ModalView', 'submit', 24],
  ] as const)('%s, by %s: %s.%s', (name, file, type, field, known) => {
    const theirs = commented(file, type, field);
    expect(limits[name]).toBeLessThanOrEqual(theirs);
    // The comment was understood as a person reads it.
    expect(theirs).toBe(known);
  });
});
