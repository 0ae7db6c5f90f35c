// Taps and forms: they wait for an answer in the request itself, which is given once the delivery is kept.
import type { Form, Intent } from '../../desk/card.ts';
import type { Intake } from '../channel.ts';
import { oneLine, shorten } from '../plain-words.ts';
import { type Activity, TapData } from './activity-form.ts';
import { formElements } from './form-elements.ts';
import { LABEL_LENGTH } from './limits.ts';
import { personOf, type Surroundings, tapDelivery } from './translate-activity.ts';

type Parts = { readonly intake: Intake; readonly around: Surroundings };
type Answer = { readonly status: number; readonly body?: unknown };

const said = (value: string): Answer => ({
  status: 200,
  body: { statusCode: 200, type: 'application/vnd.microsoft.activity.message', value },
});

const intentOf = (text: string): Intent | undefined => {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null && 'do' in value
      ? (value as Intent)
      : undefined;
  } catch {
    return undefined;
  }
};

const asObject = (value: unknown): Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};

/** A form as a window of its own, whose sending comes back as "task/submit". */
const windowOf = (form: Form, intent: string): Answer => {
  const { body, several } = formElements(form);
  return {
    status: 200,
    body: {
      task: {
        type: 'continue',
        value: {
          title: shorten(oneLine(form.title), LABEL_LENGTH),
          card: {
            contentType: 'application/vnd.microsoft.card.adaptive',
            content: {
              type: 'AdaptiveCard',
              $schema: 'http://adaptivecards.io/schemas/adaptive-card.json',
              version: '1.5',
              body,
              actions: [
                {
                  type: 'Action.Submit',
                  title: shorten(oneLine(form.submit), LABEL_LENGTH),
                  data: { intent, ...(several.length > 0 ? { several: several.join(',') } : {}) },
                },
              ],
            },
          },
        },
      },
    },
  };
};

const closed = (value?: string): Answer => ({
  status: 200,
  body: value === undefined ? {} : { task: { type: 'message', value } },
});

const fetchWindow = async (activity: Activity, { intake }: Parts): Promise<Answer> => {
  const own = TapData.safeParse(asObject(activity.value).data);
  const intent = own.success ? intentOf(own.data.intent) : undefined;
  const form = intent && (await intake.formFor(intent, personOf(activity), 'teams'));
  return form && own.success
    ? windowOf(form, own.data.intent)
    : closed('There is no form for this any more. Write in the thread what is to be done.');
};

/** @param activity of type "invoke" */
export const answerInvoke = async (activity: Activity, parts: Parts): Promise<Answer> => {
  switch (activity.name) {
    case 'adaptiveCard/action': {
      const action = asObject(asObject(activity.value).action);
      const delivery = tapDelivery(activity, action.data, parts.around);
      if (!delivery) return said('That could not be read. Write it in the thread instead.');
      await parts.intake.accept(delivery);
      return said('Taken in.');
    }
    case 'task/fetch':
      return fetchWindow(activity, parts);
    case 'task/submit': {
      const delivery = tapDelivery(activity, asObject(activity.value).data, parts.around);
      if (!delivery) return closed('That could not be read. Write it in the thread instead.');
      await parts.intake.accept(delivery);
      return closed();
    }
    default:
      return { status: 501 };
  }
};
