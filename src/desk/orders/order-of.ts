// Reads an order of the office out of a whole message, before the language looks at it as a report.
import type { Act } from '../../../shared/reading.ts';
import { FORMS } from './forms.ts';
import type { OrderContext } from './order.ts';

const COURTESY =
  /^(?:(?:please|ok|right|hi|hey|morning|chargehand|sorry|oops)[,!.]?\s+)+|(?:[,\s]+(?:please|thanks|cheers|mate|ta))+$/giu;

/** @returns undefined where the message is no order; a message longer than two lines of a phone never is. */
export const orderOf = (text: string, known: OrderContext): Act | undefined => {
  const whole = text.replace(/\s+/gu, ' ').trim();
  if (whole.length === 0 || whole.length > 160) return undefined;
  const bare = whole.replace(COURTESY, '').replace(/[.!\s]+$/u, '');
  for (const form of FORMS) {
    const said = form.read(bare, known);
    if (said === undefined) continue;
    return {
      kind: 'command',
      command: form.name,
      positions: [],
      assumed: [],
      span: [0, text.length],
      ...said,
    };
  }
  return undefined;
};
