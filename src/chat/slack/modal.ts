// A form as a Slack modal, and what was filled in as fields.
import type { KnownBlock, ModalView, PlainTextOption } from '@slack/types';
import type { Field, Form } from '../../desk/card.ts';
import { shorten, tidy } from '../plain-words.ts';
import { at, payload, textAt } from './json.ts';
import {
  BLOCK_ID,
  INPUT_LENGTH,
  LABEL_LENGTH,
  OPTION_GROUPS,
  OPTION_TEXT,
  OPTION_VALUE,
  PRIVATE_METADATA,
  SELECT_OPTIONS,
  VIEW_BLOCKS,
  VIEW_TITLE,
} from './limits.ts';

export const FORM_CALLBACK = 'form';
const ACTION = 'value';

const plain = (text: string, most: number) =>
  ({ type: 'plain_text', text: shorten(tidy(text).trim() || '-', most), emoji: false }) as const;

const optionsOf = (field: Field): PlainTextOption[] =>
  (field.choices ?? [])
    .filter((choice) => choice.value.length > 0 && choice.value.length <= OPTION_VALUE)
    .slice(0, SELECT_OPTIONS * OPTION_GROUPS)
    .map((choice) => ({ text: plain(choice.label, OPTION_TEXT), value: choice.value }));

/** Up to 100 choices as they are; more in groups of 100, named by their first and last. */
const choicesOf = (options: PlainTextOption[]) => {
  if (options.length <= SELECT_OPTIONS) return { options };
  const groups = [];
  for (let from = 0; from < options.length; from += SELECT_OPTIONS) {
    const some = options.slice(from, from + SELECT_OPTIONS);
    groups.push({
      label: plain(`${from + 1} to ${from + some.length}`, OPTION_TEXT),
      options: some,
    });
  }
  return { option_groups: groups };
};

/** Seconds since 1970 for a time with an offset; undefined for words and for a time whose zone is not known. */
const secondsOf = (value: string | undefined): number | undefined => {
  if (!value || !/(?:Z|[+-]\d\d:?\d\d)$/u.test(value)) return undefined;
  const time = Date.parse(value);
  return Number.isNaN(time) ? undefined : Math.floor(time / 1000);
};

const elementOf = (field: Field) => {
  const value = field.value ? tidy(field.value) : '';
  switch (field.kind) {
    case 'text':
    case 'long-text':
      return {
        type: 'plain_text_input',
        action_id: ACTION,
        multiline: field.kind === 'long-text',
        max_length: INPUT_LENGTH,
        ...(value ? { initial_value: shorten(value, INPUT_LENGTH) } : {}),
      } as const;
    case 'number':
      return {
        type: 'number_input',
        action_id: ACTION,
        is_decimal_allowed: true,
        ...(/^-?\d+(?:\.\d+)?$/u.test(value) ? { initial_value: value } : {}),
      } as const;
    case 'date-time': {
      const seconds = secondsOf(field.value);
      return {
        type: 'datetimepicker',
        action_id: ACTION,
        ...(seconds === undefined ? {} : { initial_date_time: seconds }),
      } as const;
    }
    case 'choice': {
      const options = optionsOf(field);
      const initial = options.find((option) => option.value === field.value);
      return {
        type: 'static_select',
        action_id: ACTION,
        ...choicesOf(options),
        ...(initial ? { initial_option: initial } : {}),
      } as const;
    }
    case 'choices':
      return {
        type: 'multi_static_select',
        action_id: ACTION,
        ...choicesOf(optionsOf(field)),
      } as const;
  }
};

const inputOf = (field: Field): KnownBlock[] => {
  const choosing = field.kind === 'choice' || field.kind === 'choices';
  // A list with nothing to choose from is refused by the platform, and nobody could fill it.
  if (choosing && optionsOf(field).length === 0) return [];
  return [
    {
      type: 'input',
      block_id: field.name.slice(0, BLOCK_ID),
      optional: !field.required,
      label: plain(field.unit ? `${field.label} (${field.unit})` : field.label, LABEL_LENGTH),
      element: elementOf(field),
      ...(field.hint ? { hint: plain(field.hint, LABEL_LENGTH) } : {}),
    },
  ];
};

/**
 * @param origin JSON that comes back when the form is sent
 * @returns undefined when the origin is too long to travel with the form
 */
export const modalOf = (form: Form, origin: string): ModalView | undefined =>
  origin.length > PRIVATE_METADATA
    ? undefined
    : {
        type: 'modal',
        callback_id: FORM_CALLBACK,
        private_metadata: origin,
        title: plain(form.title, VIEW_TITLE),
        submit: plain(form.submit, VIEW_TITLE),
        close: plain('Leave', VIEW_TITLE),
        blocks: form.fields.slice(0, VIEW_BLOCKS).flatMap(inputOf),
      };

const filled = (state: unknown): string | string[] | undefined => {
  const time = at(state, 'selected_date_time');
  if (typeof time === 'number') return new Date(time * 1000).toISOString();
  const several = at(state, 'selected_options');
  if (Array.isArray(several)) return several.flatMap((option) => textAt(option, 'value') ?? []);
  return textAt(state, 'selected_option.value') ?? textAt(state, 'value');
};

/** @param values view.state.values of a submitted form; fields left empty are left out */
export const fieldsFrom = (values: unknown): Record<string, string | string[]> => {
  const fields: Record<string, string | string[]> = {};
  for (const [name, actions] of Object.entries(payload(values) ?? {})) {
    const value = filled(Object.values(payload(actions) ?? {})[0]);
    if (value !== undefined) fields[name] = value;
  }
  return fields;
};
