// The times a page may claim: what it typed without signal keeps its time, between the last contact and now.
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { z } from 'zod';
import type { Clocks } from './requests.ts';

export type Contacts = {
  /** The bench's time, signed, told to a page whenever it is in contact. */
  readonly tell: (now: string) => string;
  /** When a message was typed by the bench's clock; undefined when that is as good as now. */
  readonly typedAt: (clocks: z.infer<typeof Clocks>, now: string) => string | undefined;
};

/** Less than this between typing and arriving is the ordinary way of a message, in milliseconds. */
const ORDINARY_MS = 30_000;

/** The secret that contacts are signed with, kept in the bench's folder so that it outlives a restart. */
export async function contactSecret(folder: string): Promise<Buffer> {
  const file = path.join(folder, 'contact-secret');
  const kept = await readFile(file).catch(() => undefined);
  if (kept !== undefined && kept.length === 32) return kept;
  const made = randomBytes(32);
  await writeFile(file, made, { mode: 0o600 });
  return made;
}

export function openContacts(secret: Buffer): Contacts {
  const signOf = (time: string) => createHmac('sha256', secret).update(time).digest('base64url');

  const lastContact = (contact: string): number | undefined => {
    const [time, sign] = contact.split(' ');
    if (time === undefined || sign === undefined) return undefined;
    const expected = Buffer.from(signOf(time));
    const given = Buffer.from(sign);
    if (expected.length !== given.length || !timingSafeEqual(expected, given)) return undefined;
    return Date.parse(time);
  };

  return {
    tell: (now) => `${now} ${signOf(now)}`,
    typedAt: ({ typed, sent, contact }, now) => {
      const nowMs = Date.parse(now);
      const last = lastContact(contact);
      if (last === undefined || Number.isNaN(last)) return undefined;
      // The page's clock may be wrong; the difference of the two clocks when it sends puts it right.
      const corrected = Math.min(nowMs, Math.max(last, typed + (nowMs - sent)));
      if (nowMs - corrected < ORDINARY_MS) return undefined;
      return new Date(corrected).toISOString();
    },
  };
}
