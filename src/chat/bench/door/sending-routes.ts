// What can be sent: who is posting, messages, changes, taps, photos, a plan to check.
import type { IncomingMessage, ServerResponse } from 'node:http';
import { DateTime } from 'luxon';
import type { Delivery } from '../../../../shared/delivery.ts';
import { formMarkup } from '../draw/form.ts';
import { complaintsMarkup, trialMarkup } from '../draw/other-pages.ts';
import { isRefusal, type Refusal, refusal } from '../refusal.ts';
import { DELIVERY_PREFIX } from '../talk/hand-in.ts';
import { PHOTO_LIMIT } from '../talk/photos.ts';
import { type BenchParts, type Looking, WHO_COOKIE } from './bench-parts.ts';
import { readBytes, readJson } from './body.ts';
import { openingOutcome } from './opening-outcome.ts';
import { ownCodeAsked } from './own-code.ts';
import {
  AskForm,
  Change,
  CheckPlan,
  Nothing,
  PhotoId,
  PLAN_LIMIT,
  PlanText,
  Say,
  TakeBack,
  Tap,
  TryPlan,
  Who,
} from './requests.ts';
import { sendJson } from './send.ts';

/** Bytes of an ordinary body. A message over the limit of characters is still read, so that it is answered plainly. */
const BODY_LIMIT = 1_000_000;
const NOBODY = refusal(
  401,
  'Nobody is chosen as the one who posts.',
  'Choose who is posting, then send it again.',
);

type Sending = (
  parts: BenchParts,
  request: IncomingMessage,
  response: ServerResponse,
  frame: Looking,
) => Promise<Refusal | undefined>;

/** What every delivery of this person carries. */
function base(id: string, thread: string | null, person: string, at: string) {
  return {
    id: `${DELIVERY_PREFIX}${id}`,
    keys: [],
    channel: 'bench' as const,
    team: 'bench',
    place: 'yard',
    ...(thread === null ? {} : { thread }),
    person,
    at,
  };
}

async function hand(
  parts: BenchParts,
  response: ServerResponse,
  frame: Looking,
  delivery: Delivery,
  code: string | undefined,
  outcome?: () => Promise<object>,
): Promise<Refusal | undefined> {
  const asked = await ownCodeAsked(parts, frame, delivery, code);
  if (isRefusal(asked)) return asked;
  const waiting = outcome?.();
  const result = await parts.handIn.take(delivery, asked.isProved ? undefined : frame.tablet);
  if (isRefusal(result)) return result;
  sendJson(response, {
    taken: delivery.id.slice(DELIVERY_PREFIX.length),
    contact: parts.contacts.tell(parts.options.clock()),
    ...(await waiting),
  });
  return undefined;
}

/** A job's thread hangs from a post of the bot's in the yard; another place takes no messages. */
function threadRefusal(parts: BenchParts, thread: string | null): Refusal | undefined {
  if (thread === null || parts.conversation.yard.entry(thread)?.card !== undefined)
    return undefined;
  return refusal(404, 'This thread is not on the bench.', 'Open the job from the yard again.');
}

/** Only one's own words can be changed or taken back. */
async function ownRefusal(
  parts: BenchParts,
  thread: string | null,
  message: string,
  who: string,
): Promise<Refusal | undefined> {
  const entry = (await parts.conversation.rollAt(thread))?.entry(message);
  if (entry?.by === undefined || entry.takenBack === true) {
    return refusal(404, 'This message is not there to be changed.', 'Reload the page.');
  }
  if (entry.by === who) return undefined;
  return refusal(403, `This message is ${entry.by}'s.`, `Ask ${entry.by} to change it.`);
}

const who: Sending = async (parts, request, response, frame) => {
  const body = await readJson(request, Who, BODY_LIMIT);
  if (isRefusal(body)) return body;
  if (frame.pass?.kind === 'own') {
    return refusal(
      403,
      `This device is ${frame.pass.name}'s.`,
      'Others come in with a code of their own.',
    );
  }
  if (!frame.people.includes(body.name)) {
    return refusal(
      404,
      'This name is not among the people of the workshop.',
      'Choose one of the list; the controller adds people in the settings.',
    );
  }
  response.setHeader(
    'set-cookie',
    `${WHO_COOKIE}=${encodeURIComponent(body.name)}; Path=/; Max-Age=2592000; HttpOnly; SameSite=Strict${parts.door === undefined ? '' : '; Secure'}`,
  );
  sendJson(response, { who: body.name });
  return undefined;
};

const message: Sending = async (parts, request, response, frame) => {
  const body = await readJson(request, Say, BODY_LIMIT);
  if (isRefusal(body)) return body;
  if (frame.who === undefined) return NOBODY;
  const noThread = threadRefusal(parts, body.thread);
  if (noThread !== undefined) return noThread;
  const typed =
    body.clocks === undefined ? undefined : parts.contacts.typedAt(body.clocks, frame.now);
  const files = [];
  for (const name of body.photos ?? []) {
    const about = await parts.photos.about(name);
    if (about === undefined) {
      return refusal(404, 'The photo did not arrive.', 'Add it once more and send again.');
    }
    files.push({ name, from: name, ...about });
  }
  const delivery: Delivery = {
    ...base(body.id, body.thread, frame.who, frame.now),
    kind: 'message',
    message: `m-${body.id}`,
    text: body.text,
    ...(typed === undefined ? {} : { typed }),
    ...(files.length === 0 ? {} : { files }),
  };
  return hand(parts, response, frame, delivery, body.code);
};

const change: Sending = async (parts, request, response, frame) => {
  const body = await readJson(request, Change, BODY_LIMIT);
  if (isRefusal(body)) return body;
  if (frame.who === undefined) return NOBODY;
  const refused = await ownRefusal(parts, body.thread, body.message, frame.who);
  if (refused !== undefined) return refused;
  const { id, thread, message: changed, text } = body;
  const delivery = base(id, thread, frame.who, frame.now);
  return hand(
    parts,
    response,
    frame,
    { ...delivery, kind: 'edit', message: changed, text },
    body.code,
  );
};

const takeBack: Sending = async (parts, request, response, frame) => {
  const body = await readJson(request, TakeBack, BODY_LIMIT);
  if (isRefusal(body)) return body;
  if (frame.who === undefined) return NOBODY;
  const refused = await ownRefusal(parts, body.thread, body.message, frame.who);
  if (refused !== undefined) return refused;
  const delivery = base(body.id, body.thread, frame.who, frame.now);
  return hand(
    parts,
    response,
    frame,
    { ...delivery, kind: 'delete', message: body.message },
    body.code,
  );
};

const tap: Sending = async (parts, request, response, frame) => {
  const body = await readJson(request, Tap, BODY_LIMIT);
  if (isRefusal(body)) return body;
  if (frame.who === undefined) return NOBODY;
  const noThread = threadRefusal(parts, body.thread);
  if (noThread !== undefined) return noThread;
  const intent = JSON.stringify(body.intent);
  if (intent.length > 2000) {
    return refusal(413, 'This button says more than it may.', 'Say it in a message instead.');
  }
  const times = new Set(body.times ?? []);
  const fields = Object.entries(body.fields ?? {}).map(([name, value]) => [
    name,
    times.has(name) && typeof value === 'string' ? withOffset(value, frame.zone) : value,
  ]);
  const delivery: Delivery = {
    ...base(body.id, body.thread, frame.who, frame.now),
    kind: 'tap',
    intent,
    ...(body.fields === undefined ? {} : { fields: Object.fromEntries(fields) }),
    ...(body.message === undefined ? {} : { message: body.message }),
  };
  const number = body.fields?.job;
  const outcome =
    body.intent.do === 'open-job' && body.fields !== undefined
      ? () => openingOutcome(parts, delivery.id, number)
      : undefined;
  return hand(parts, response, frame, delivery, body.code, outcome);
};

/** A date and time as the browser gives it, with the workshop's offset; anything else as it is. */
function withOffset(value: string, zone: string): string {
  const time = DateTime.fromISO(value, { zone });
  return (time.isValid ? time.toISO({ suppressMilliseconds: true }) : null) ?? value;
}

const askForm: Sending = async (parts, request, response, frame) => {
  const body = await readJson(request, AskForm, BODY_LIMIT);
  if (isRefusal(body)) return body;
  if (frame.who === undefined) return NOBODY;
  const form = await parts.intake.formFor(body.intent, frame.who, 'bench');
  sendJson(response, { form: form === undefined ? null : formMarkup(form, body.intent).markup });
  return undefined;
};

const photo: Sending = async (parts, request, response, frame) => {
  if (frame.who === undefined) return NOBODY;
  // The page's own name for it: sent twice, because the answer was lost, it is kept once.
  const id = PhotoId.safeParse(request.headers['x-photo']);
  if (!id.success) {
    return refusal(400, 'The photo came without a name.', 'Reload the page and add it again.');
  }
  const bytes = await readBytes(request, PHOTO_LIMIT);
  if (isRefusal(bytes)) return bytes;
  const kept = await parts.photos.keep(bytes, id.data);
  if (isRefusal(kept)) return kept;
  sendJson(response, { photo: kept.name });
  return undefined;
};

const checkPlan: Sending = async (parts, request, response) => {
  const { planCheck } = parts.options;
  if (planCheck === undefined) {
    return refusal(404, 'Plans are not checked here.', 'Use: npx chargehand plan check FILE');
  }
  const body = await readJson(request, CheckPlan, PLAN_LIMIT * 4);
  if (isRefusal(body)) return body;
  const complaints = await planCheck(body.text);
  sendJson(response, {
    html: complaintsMarkup(complaints).markup,
    count: complaints.length,
    lines: complaints.map(({ line }) => line),
  });
  return undefined;
};

const NO_DESK = refusal(
  404,
  'Plans are not tried or saved here.',
  'Put the file into the plans folder.',
);

const planText: Sending = async ({ options: { planDesk } }, request, response) => {
  const body = await readJson(request, PlanText, BODY_LIMIT);
  if (isRefusal(body)) return body;
  const text = planDesk?.textOf(body.plan);
  if (text === undefined) return refusal(404, 'There is no such plan here.', 'Reload the page.');
  sendJson(response, { text });
  return undefined;
};

const tryPlan: Sending = async ({ options: { planDesk } }, request, response) => {
  if (planDesk === undefined) return NO_DESK;
  const body = await readJson(request, TryPlan, PLAN_LIMIT * 4);
  if (isRefusal(body)) return body;
  sendJson(response, { html: trialMarkup(planDesk.tryOut(body.text, body.messages)).markup });
  return undefined;
};

const savePlan: Sending = async ({ options: { planDesk } }, request, response, frame) => {
  if (planDesk === undefined) return NO_DESK;
  const body = await readJson(request, CheckPlan, PLAN_LIMIT * 4);
  if (isRefusal(body)) return body;
  if (frame.who === undefined) return NOBODY;
  if (frame.tablet !== undefined) {
    return refusal(403, 'Plans are not saved from a shared tablet.', 'Do it from your own device.');
  }
  const saved = await planDesk.save(body.text, frame.who);
  if (!saved.ok) return refusal(409, saved.what, saved.doThis);
  sendJson(response, { plan: saved.plan, says: saved.says });
  return undefined;
};

const demo: Sending = async (parts, request, response) => {
  const { loadDemo } = parts.options;
  if (loadDemo === undefined) {
    return refusal(404, 'The demonstration is not offered here.', 'Run: npm run demo');
  }
  const body = await readJson(request, Nothing, BODY_LIMIT);
  if (isRefusal(body)) return body;
  if ((await parts.jobs()).length > 0) {
    return refusal(
      409,
      'Jobs are open already, and the demonstration is for an empty workshop.',
      'Start with --data and an empty folder to see it.',
    );
  }
  await loadDemo();
  sendJson(response, { loaded: true });
  return undefined;
};

export const SENDING: Readonly<Record<string, Sending>> = {
  '/api/who': who,
  '/api/message': message,
  '/api/change': change,
  '/api/take-back': takeBack,
  '/api/tap': tap,
  '/api/form': askForm,
  '/api/photo': photo,
  '/api/plan-check': checkPlan,
  '/api/plan-text': planText,
  '/api/plan-try': tryPlan,
  '/api/plan-save': savePlan,
  '/api/demo': demo,
};
