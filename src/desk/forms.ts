// The form behind an intent: what has to be filled in before a tap means anything.

import type { JobEvent } from '../../shared/event.ts';
import type { JobView } from '../job/view.ts';
import type { Form, Intent } from './card.ts';
import { figureForm } from './figure-form.ts';
import { closeForm } from './office/closing.ts';
import { approveForm } from './office/findings.ts';
import { openingForm } from './opening/opening-form.ts';
import { takeInForm } from './taking-in.ts';
import type { Workshop } from './workshop.ts';

const reasonFor = (title: string, submit: string, label: string): Form => ({
  title,
  submit,
  fields: [
    {
      name: 'reason',
      label,
      kind: 'long-text',
      required: true,
      hint: 'Kept in the record with your name.',
    },
  ],
});

export const OVERRIDE_FORM = reasonFor('Override', 'Override', 'Why the work may go on');
export const REFUSE_FORM = reasonFor('Refuse', 'Refuse', 'What has to be put right');
export const CANCEL_FORM = reasonFor('Cancel the job', 'Cancel the job', 'Why it is cancelled');

/** @param view the job the intent names, where it is known */
export const formOf = (
  workshop: Workshop,
  view: JobView | undefined,
  intent: Intent,
  events: readonly JobEvent[] = [],
): Form | undefined => {
  switch (intent.do) {
    case 'open-job':
      return openingForm(workshop, {});
    case 'override':
      return OVERRIDE_FORM;
    case 'refuse':
      return REFUSE_FORM;
    case 'cancel-job':
      return CANCEL_FORM;
    case 'close-job':
      return view ? closeForm(view) : undefined;
    case 'settle-finding':
      return view && intent.settle === 'approved'
        ? approveForm(events, view, intent.message)
        : undefined;
    case 'take-in':
      return takeInForm(workshop.settings, intent);
    case 'report':
      return view ? figureForm(view, intent.step, intent.position) : undefined;
    default:
      return undefined;
  }
};
