// Somebody who is not in the settings: they may look, and a controller takes them in with a tap.
import type { Person, Settings } from '../../shared/settings.ts';
import type { Card, Field, Form, Stranger } from './card.ts';
import { personNamed } from './workshop.ts';

type Channel = Stranger['channel'];

/** Roles a tap can give; a manager or controller is written into the settings by hand. */
const ROLES = ['technician', 'controller', 'manager'] as const;
const NEW = '(new)';

/** The requests that change something; whoever is not in the settings may make the others. */
const CHANGING: ReadonlySet<string> = new Set([
  'acknowledge',
  'approve',
  'assign',
  'cancel-job',
  'close-job',
  'controller',
  'decline',
  'merge-job',
  'move-message',
  'new-plan',
  'odometer',
  'open-job',
  'other-plan',
  'other-vehicle',
  'override',
  'promise',
  'refuse',
  'release',
  'reopen-job',
  'road-release',
  'take-over',
]);

/** Whether acts only look: questions and requests that change nothing. */
export const onlyLooks = (
  acts: readonly { readonly kind: string; readonly command?: string | undefined }[],
): boolean =>
  acts.length > 0 &&
  acts.every(
    (act) =>
      (act.kind === 'command' || act.kind === 'asks') &&
      (act.command === undefined || !CHANGING.has(act.command)),
  );

/** People of the settings without an id on the channel: the newcomer may be one of them. */
const without = (settings: Pick<Settings, 'people'>, channel: Channel): readonly Person[] =>
  channel === 'bench' ? [] : settings.people.filter((person) => person[channel] === undefined);

export const takeInForm = (
  settings: Pick<Settings, 'people'>,
  intent: { readonly channel: Channel; readonly name: string },
): Form => {
  const known = without(settings, intent.channel);
  const who: Field = {
    name: 'who',
    label: 'Who it is',
    kind: 'choice',
    required: true,
    choices: [
      { value: NEW, label: 'Somebody new' },
      ...known.map(({ name }) => ({ value: name, label: name })),
    ],
    value: NEW,
  };
  return {
    title: 'Take in',
    submit: 'Take in',
    fields: [
      ...(known.length > 0 ? [who] : []),
      {
        name: 'name',
        label: 'Name on the record',
        kind: 'text',
        required: known.length === 0,
        hint: 'As colleagues write it. Kept in the settings.',
        ...(intent.name ? { value: intent.name.slice(0, 60) } : {}),
      },
      {
        name: 'role',
        label: 'Role',
        kind: 'choice',
        required: true,
        choices: ROLES.map((role) => ({ value: role, label: role })),
        value: 'technician',
      },
    ],
  };
};

/** Told to the one who posted and to the controller alike, under the message that is kept. */
export const strangerCard = (
  settings: Pick<Settings, 'people'>,
  stranger: Stranger,
  kept: boolean,
  tells: readonly string[],
): Card => {
  const who = stranger.name ? `"${stranger.name}"` : 'Whoever posted this';
  const says = `${kept ? 'Kept, not recorded yet' : 'Nothing was recorded'}: ${who} is not in the workshop's settings. A controller takes them in with a tap${kept ? '; what they posted is recorded then' : ''}.`;
  return {
    text: says,
    blocks: [{ kind: 'text', text: says }],
    tells,
    actions: [
      {
        label: 'Take in',
        weight: 'main',
        intent: { do: 'take-in', ...stranger },
        form: takeInForm(settings, stranger),
      },
      { label: 'Not one of us', weight: 'plain', intent: { do: 'turn-away', ...stranger } },
    ],
  };
};

export type TakenIn =
  | { readonly ok: true; readonly person: Person; readonly known: boolean }
  | { readonly ok: false; readonly says: string };

/** The person a filled form makes of a newcomer: one of the settings with the id added, or a new one. */
export const takenIn = (
  settings: Pick<Settings, 'people'> & Partial<Settings>,
  intent: { readonly channel: Channel; readonly person: string; readonly name: string },
  fields: Readonly<Record<string, string | readonly string[]>>,
): TakenIn => {
  const field = (name: string): string => {
    const value = fields[name];
    return (typeof value === 'string' ? value : (value?.[0] ?? '')).trim().replace(/\s+/gu, ' ');
  };
  const id = intent.channel === 'bench' ? {} : { [intent.channel]: intent.person };
  const who = field('who');
  if (who && who !== NEW) {
    const known = settings.people.find((person) => person.name === who);
    if (!known || !without(settings, intent.channel).includes(known))
      return {
        ok: false,
        says: `"${who.slice(0, 60)}" has an id already, or is not in the settings. Nothing was changed.`,
      };
    return { ok: true, known: true, person: { ...known, ...id } };
  }
  const name = field('name') || intent.name.trim().slice(0, 60);
  if (!name) return { ok: false, says: 'A name is needed. Tap again and write it.' };
  if (name.length > 60)
    return {
      ok: false,
      says: 'The name is longer than 60 characters. Tap again and write a shorter one.',
    };
  if (personNamed(settings as Settings, name))
    return {
      ok: false,
      says: `There is a "${name}" in the settings already. Tap again and choose them, or write another name.`,
    };
  const role = ROLES.find((each) => each === field('role')) ?? 'technician';
  return { ok: true, known: false, person: { name, roles: [role], ...id } };
};
