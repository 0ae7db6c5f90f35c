// The buttons under a card or a flag.
import type { Action } from '../../../desk/card.ts';
import { formMarkup } from './form.ts';
import { html, type Markup } from './html.ts';
import type { Frame } from './time-words.ts';

/** One button; a form it needs stands behind it and is opened by the page's script. */
export function actMarkup(action: Action, message?: string): Markup {
  const about = message === undefined ? '' : html` data-message="${message}"`;
  const form =
    action.form === undefined
      ? ''
      : html`<template>${formMarkup(action.form, action.intent, message)}</template>`;
  return html`<button type="button" class="act ${action.weight}" data-tap="${JSON.stringify(action.intent)}"${about}>${action.label}</button>${form}`;
}

/** Those that mean something in the hands of who is looking. */
export const usable = (
  actions: readonly Action[] | undefined,
  { may }: Pick<Frame, 'may'>,
): readonly Action[] => (actions ?? []).filter(({ intent }) => may?.(intent) ?? true);

export function actsMarkup(
  actions: readonly Action[] | undefined,
  frame: Pick<Frame, 'may'>,
  message?: string,
): Markup {
  const shown = usable(actions, frame);
  if (shown.length === 0) return html``;
  return html`<div class="acts">${shown.map((action) => actMarkup(action, message))}</div>`;
}
