// A form as inputs of an Adaptive Card, inside a card or in a window of its own.
import type { Field, Form } from '../../desk/card.ts';
import { oneLine, shorten, tidy } from '../plain-words.ts';
import type { Element } from './adaptive-card.ts';
import { LABEL_LENGTH } from './limits.ts';

const INPUT_LENGTH = 3_000;
const MOST_CHOICES = 200;

const labelOf = (field: Field): string =>
  shorten(oneLine(field.unit ? `${field.label} (${field.unit})` : field.label), 200);

const asked = (field: Field, label: string): Element => ({
  label,
  isRequired: field.required,
  ...(field.required ? { errorMessage: `${shorten(label, 100)} is needed.` } : {}),
});

const choicesOf = (field: Field) =>
  (field.choices ?? [])
    // Several choices come back with commas between them.
    .filter(({ value }) => field.kind === 'choice' || !value.includes(','))
    .slice(0, MOST_CHOICES)
    .map(({ value, label }) => ({ value, title: shorten(oneLine(label), 200) }));

const parts = (value: string | undefined): { date?: string; time?: string } => {
  const found = /^(\d{4}-\d\d-\d\d)T(\d\d:\d\d)/u.exec(value ?? '');
  return found?.[1] && found[2] ? { date: found[1], time: found[2] } : {};
};

const inputsOf = (field: Field): readonly Element[] => {
  const id = field.name;
  const label = labelOf(field);
  const value = field.value ? tidy(field.value) : '';
  const hint: Element = field.hint ? { placeholder: shorten(oneLine(field.hint), 200) } : {};
  const before: Element = value ? { value: shorten(value, INPUT_LENGTH) } : {};
  switch (field.kind) {
    case 'text':
    case 'long-text':
      return [
        {
          type: 'Input.Text',
          id,
          ...asked(field, label),
          isMultiline: field.kind === 'long-text',
          maxLength: INPUT_LENGTH,
          ...hint,
          ...before,
        },
      ];
    // A figure is taken as text: people write "28 L" and "1,2", and the desk reads both.
    case 'number':
      return [
        { type: 'Input.Text', id, ...asked(field, label), maxLength: 40, ...hint, ...before },
      ];
    case 'date-time': {
      const { date, time } = parts(value);
      return [
        {
          type: 'Input.Date',
          id: `${id}.date`,
          ...asked(field, label),
          ...(date ? { value: date } : {}),
        },
        {
          type: 'Input.Time',
          id: `${id}.time`,
          label: shorten(`${label}, time`, LABEL_LENGTH),
          ...(time ? { value: time } : {}),
        },
      ];
    }
    case 'choice':
    case 'choices': {
      const choices = choicesOf(field);
      if (choices.length === 0) return [];
      return [
        {
          type: 'Input.ChoiceSet',
          id,
          ...asked(field, label),
          isMultiSelect: field.kind === 'choices',
          style: choices.length > 5 ? 'compact' : 'expanded',
          choices,
          ...(choices.some((choice) => choice.value === value) ? { value } : {}),
        },
      ];
    }
  }
};

/** @returns the inputs, and the names of fields in which several may be chosen */
export const formElements = (
  form: Form,
): { readonly body: readonly Element[]; readonly several: readonly string[] } => ({
  body: form.fields.flatMap(inputsOf),
  several: form.fields.flatMap((field) => (field.kind === 'choices' ? [field.name] : [])),
});
