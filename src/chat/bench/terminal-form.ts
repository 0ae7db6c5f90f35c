// A form filled in on a terminal, one question after the other.
import { DateTime } from 'luxon';
import type { Field, Form } from '../../desk/card.ts';
import { fieldLines } from './terminal-words.ts';

export type Fields = Record<string, string | string[]>;

export type FormAsking = {
  /** Takes the answer to the question that stands; gives what to print, and the fields once all are answered. */
  readonly answer: (line: string) => { readonly says: string[]; readonly done?: Fields };
  readonly firstSays: string[];
};

/** Asks the fields of a form in order. `zone` is the workshop's, for dates and times. */
export function askForm(form: Form, zone: string): FormAsking {
  const fields: Fields = {};
  let at = 0;
  const question = (): string[] => {
    const field = form.fields[at];
    return field === undefined ? [] : fieldLines(field);
  };
  return {
    firstSays: [`${form.title}. A line with only "/leave" leaves it.`, ...question()],
    answer: (line) => {
      const field = form.fields[at];
      if (field === undefined) return { says: [], done: fields };
      const read = readField(field, line.trim(), zone);
      if ('says' in read) return { says: [read.says, ...question()] };
      if (read.value !== undefined) fields[field.name] = read.value;
      at += 1;
      return at < form.fields.length ? { says: question() } : { says: [], done: fields };
    },
  };
}

type ReadField = { readonly value: string | string[] | undefined } | { readonly says: string };

function readField(field: Field, text: string, zone: string): ReadField {
  const given = text === '' ? (field.value ?? '') : text;
  if (given === '') {
    return field.required ? { says: `${field.label} is needed.` } : { value: undefined };
  }
  const choices = field.choices ?? [];
  const choiceOf = (word: string): string | undefined =>
    choices[Number(word) - 1]?.value ??
    choices.find(({ value, label }) => [value, label].includes(word))?.value;
  switch (field.kind) {
    case 'choice': {
      const value = choiceOf(given);
      return value === undefined
        ? { says: `"${given}" is none of these. Type the number of one.` }
        : { value };
    }
    case 'choices': {
      const values = given.split(/[,\n]/).map((word) => choiceOf(word.trim()));
      return values.some((value) => value === undefined)
        ? { says: `"${given}" is not all of these. Type numbers with commas between them.` }
        : { value: values.filter((value) => value !== undefined) };
    }
    case 'number':
      return /^[+-]?\d+([.,]\d+)?$/.test(given)
        ? { value: given }
        : { says: `"${given}" is no figure. Type it in figures, such as 28 or 0,35.` };
    case 'date-time': {
      const time = DateTime.fromISO(given.replace(' ', 'T'), { zone });
      const value = time.isValid ? time.toISO({ suppressMilliseconds: true }) : null;
      return value === null
        ? { says: `"${given}" is no date and time. Type it as 2025-03-04 16:00.` }
        : { value };
    }
    default:
      return { value: given };
  }
}
