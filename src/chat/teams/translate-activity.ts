// Activities of the service as deliveries. Decides only what is a person's doing at all.
import { DateTime } from 'luxon';
import { type Attachment, Delivery } from '../../../shared/delivery.ts';
import { type Activity, OWN_NAMES, TapData } from './activity-form.ts';
import { spotOf } from './place-id.ts';
import { saidText } from './said-text.ts';

export type Surroundings = {
  readonly nameOf: (id: string) => string | undefined;
  /** The time now, ISO with offset; for what carries no time of its own. */
  readonly now: string;
  /** The workshop's time zone: a form asks for a time there. */
  readonly zone: string;
};

/** Teams' reactions under the names that the workshop's signs have elsewhere. */
const SIGNS: Readonly<Record<string, string>> = {
  like: '+1',
  checkmark: 'white_check_mark',
  'checkmark-button': 'white_check_mark',
};

/** Undefined for what does not fit the form of a delivery. */
const checked = (delivery: unknown): Delivery | undefined => {
  const parsed = Delivery.safeParse(delivery);
  return parsed.success ? parsed.data : undefined;
};

export const tenantOf = (activity: Activity): string =>
  activity.channelData?.tenant?.id ?? activity.conversation.tenantId ?? '';

/** The person's id of the directory, which is the same everywhere; the conversation's own where there is none. */
export const personOf = (activity: Activity): string =>
  activity.from.aadObjectId ?? activity.from.id;

const timeOf = (activity: Activity, now: string): string => {
  const time = Date.parse(activity.timestamp ?? '');
  return Number.isNaN(time) ? now : new Date(time).toISOString();
};

const fileFrom = (each: NonNullable<Activity['attachments']>[number]): Attachment[] => {
  const type = each.contentType ?? '';
  const name = (each.name ?? '').slice(0, 200);
  if (type === 'application/vnd.microsoft.teams.file.download.info') {
    const { downloadUrl, fileType } = (each.content ?? {}) as Record<string, unknown>;
    if (typeof downloadUrl !== 'string') return [];
    const ending = typeof fileType === 'string' ? fileType.toLowerCase() : '';
    const isPicture = /^(?:jpe?g|png|gif|webp|heic)$/u.test(ending);
    return [
      {
        name: name || `file.${ending}`,
        type: isPicture
          ? `image/${ending === 'jpg' ? 'jpeg' : ending}`
          : 'application/octet-stream',
        bytes: 0,
        from: downloadUrl,
      },
    ];
  }
  return type.startsWith('image/') && each.contentUrl
    ? [{ name: name || 'photo', type: type.slice(0, 100), bytes: 0, from: each.contentUrl }]
    : [];
};

/** Pictures and files that came with a message; cards and the body's own markup are none. */
const filesOf = (activity: Activity): readonly Attachment[] =>
  (activity.attachments ?? []).flatMap(fileFrom);

const base = (activity: Activity, now: string) => {
  const { place, thread } = spotOf(activity.conversation.id);
  return {
    channel: 'teams' as const,
    team: tenantOf(activity),
    place,
    // The root of a thread stands in its own thread: it is not a reply.
    ...(thread && thread !== activity.id ? { thread } : {}),
    person: personOf(activity),
    at: timeOf(activity, now),
  };
};

export const messageKey = (place: string, message: string): string => `teams:${place}:${message}`;

const message = (activity: Activity, { nameOf, now }: Surroundings): Delivery | undefined => {
  if (!activity.id) return undefined;
  const text = saidText(activity, nameOf);
  const files = filesOf(activity);
  if (text === '' && files.length === 0) return undefined;
  const from = base(activity, now);
  return checked({
    ...from,
    id: messageKey(from.place, activity.id),
    keys: [],
    kind: 'message',
    message: activity.id,
    text,
    ...(activity.conversation.conversationType === 'personal' ? { direct: true } : {}),
    ...(files.length > 0 ? { files } : {}),
  });
};

const edit = (activity: Activity, { nameOf, now }: Surroundings): Delivery | undefined => {
  const kind = activity.channelData?.eventType;
  if (!activity.id || (kind && kind !== 'editMessage' && kind !== 'undeleteMessage'))
    return undefined;
  const from = base(activity, now);
  return checked({
    ...from,
    id: `${messageKey(from.place, activity.id)}:${kind === 'undeleteMessage' ? 'back' : 'edited'}:${from.at}`,
    keys: [],
    kind: 'edit',
    message: activity.id,
    text: saidText(activity, nameOf),
  });
};

const remove = (activity: Activity, { now }: Surroundings): Delivery | undefined => {
  if (!activity.id) return undefined;
  const from = base(activity, now);
  return checked({
    ...from,
    id: `${messageKey(from.place, activity.id)}:deleted:${from.at}`,
    keys: [],
    kind: 'delete',
    message: activity.id,
  });
};

const reactions = (activity: Activity, { now }: Surroundings): readonly Delivery[] => {
  const target = activity.replyToId;
  if (!target) return [];
  const from = base(activity, now);
  const of = (list: Activity['reactionsAdded'], on: boolean): readonly Delivery[] =>
    (list ?? []).flatMap(
      ({ type }) =>
        checked({
          ...from,
          id: `${messageKey(from.place, target)}:${on ? 'sign' : 'unsign'}:${from.person}:${type}:${from.at}`,
          keys: activity.id ? [`teams:activity:${activity.id}:${on}:${type}`] : [],
          kind: 'reaction',
          message: target,
          sign: SIGNS[type] ?? type,
          on,
        }) ?? [],
    );
  return [...of(activity.reactionsAdded, true), ...of(activity.reactionsRemoved, false)];
};

/**
 * What was filled in beside the button: Teams sends several choices as one text with commas between, and a date and a
 * time apart, without a zone.
 */
export const fieldsFrom = (
  data: Readonly<Record<string, unknown>>,
  zone: string,
): Record<string, string | string[]> => {
  const several = new Set(
    typeof data.several === 'string' ? data.several.split(',').filter(Boolean) : [],
  );
  const fields: Record<string, string | string[]> = {};
  for (const [name, value] of Object.entries(data)) {
    if (OWN_NAMES.has(name) || typeof value !== 'string' || value === '') continue;
    // A field for date and time is drawn as two inputs.
    const part = /^(.+)\.(?:date|time)$/u.exec(name);
    if (part?.[1]) {
      if (!name.endsWith('.date')) continue;
      const time = data[`${part[1]}.time`];
      const clock = typeof time === 'string' && time ? time : '00:00';
      const when = DateTime.fromISO(`${value}T${clock}`, { zone }).toISO();
      if (when) fields[part[1]] = when;
      continue;
    }
    fields[name] = several.has(name) ? value.split(',').filter(Boolean) : value;
  }
  return fields;
};

/**
 * A tap or a sent form.
 * @param data what the card put into the button, with what was filled in
 */
export const tapDelivery = (
  activity: Activity,
  data: unknown,
  { now, zone }: Surroundings,
): Delivery | undefined => {
  const own = TapData.safeParse(data);
  if (!own.success || !activity.id) return undefined;
  const fields = fieldsFrom(own.data, zone);
  const from = base(activity, now);
  return checked({
    ...from,
    id: `teams:${from.place}:tap:${activity.id}`,
    keys: [],
    kind: 'tap',
    intent: own.data.intent,
    ...(Object.keys(fields).length > 0 ? { fields } : {}),
    ...(activity.replyToId ? { message: activity.replyToId } : {}),
  });
};

/** What an activity says, without taps, which are answered in the request. */
export const deliveriesOf = (activity: Activity, around: Surroundings): readonly Delivery[] => {
  const one = (delivery: Delivery | undefined): readonly Delivery[] => (delivery ? [delivery] : []);
  if (activity.recipient?.id === activity.from.id) return [];
  switch (activity.type) {
    case 'message':
      return one(
        activity.value !== undefined && activity.value !== null && !(activity.text ?? '').trim()
          ? tapDelivery(activity, activity.value, around)
          : message(activity, around),
      );
    case 'messageUpdate':
      return one(edit(activity, around));
    case 'messageDelete':
      return one(remove(activity, around));
    case 'messageReaction':
      return reactions(activity, around);
    default:
      return [];
  }
};
