// Who is let in over the workshop's network. A pass is a random secret in a device's cookie, kept here as a hash only;
// a code brings one, once, and is kept in memory only. A person's own code, asked for on a shared tablet, is kept salted.
import { createHash, randomBytes, randomInt, scrypt, timingSafeEqual } from 'node:crypto';
import { open, readFile, rename } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { syncFolder } from '../talk/line-file.ts';

/** One person's own device, or a tablet that several hands use. */
export type PassFor =
  | { readonly kind: 'own'; readonly name: string }
  | { readonly kind: 'tablet'; readonly name: string };

export type Pass = PassFor & {
  readonly id: string;
  readonly madeAt: string;
  /** Who made the code for it. */
  readonly by: string;
  readonly expires: string;
};

export type Invitation = {
  /** Typed by hand: "K7QM-2XRD". */
  readonly code: string;
  /** In the QR code: too long to guess. */
  readonly token: string;
  readonly expires: string;
};

export type Passes = {
  /** Those that have not expired, by name. */
  readonly list: (now: string) => readonly Pass[];
  readonly passOf: (secret: string, now: string) => Pass | undefined;
  /** A code that brings a pass, once, within ten minutes. An earlier one for the same name ends. */
  readonly invite: (who: PassFor, by: string, now: string) => Invitation;
  /** The pass behind a code or a token, synced; undefined where there is none. */
  readonly enter: (
    given: string,
    now: string,
  ) => Promise<{ readonly pass: Pass; readonly secret: string } | undefined>;
  /** Resolves with the pass that was ended; undefined where there is none. */
  readonly end: (id: string) => Promise<Pass | undefined>;
  readonly hasOwnCode: (person: string) => boolean;
  readonly setOwnCode: (person: string, code: string) => Promise<void>;
  readonly ownCodeFits: (person: string, code: string) => Promise<boolean>;
};

export const INVITED_MS = 10 * 60_000;
export const PASS_DAYS = 30;
/** Without the letters and figures that are taken for each other: 30 signs, 8 of them, about 39 bits. */
const SIGNS = '23456789ABCDEFGHJKMNPQRSTVWXYZ';
const SIGNS_LONG = 8;

const Kept = z.strictObject({
  version: z.literal(1),
  passes: z.array(
    z.strictObject({
      kind: z.enum(['own', 'tablet']),
      name: z.string(),
      id: z.string(),
      madeAt: z.string(),
      by: z.string(),
      expires: z.string(),
      hash: z.string().regex(/^[0-9a-f]{64}$/),
    }),
  ),
  /** "salt:hash" by name. */
  ownCodes: z.record(z.string(), z.string()),
});
type Kept = z.infer<typeof Kept>;

/** A random secret of 256 bits needs no salt: nobody can try them all. */
const hashOf = (secret: string): Buffer => createHash('sha256').update(secret).digest();

/** The one whose hash is that of the secret. Every one is compared, each in constant time. */
function fitting<T>(
  all: Iterable<T>,
  secret: string,
  hashes: (one: T) => readonly Buffer[],
): T | undefined {
  const hash = hashOf(secret);
  let found: T | undefined;
  for (const one of all)
    for (const each of hashes(one)) if (timingSafeEqual(each, hash)) found = one;
  return found;
}

const stretched = (code: string, salt: string): Promise<Buffer> =>
  new Promise((resolve, reject) =>
    scrypt(code.normalize('NFKC'), salt, 32, (error, key) =>
      error ? reject(error) : resolve(key),
    ),
  );

/** As it is typed with thumbs: small letters, gaps and dashes are all one. */
const plainCode = (given: string): string => given.toUpperCase().replace(/[^0-9A-Z]/g, '');

type Invited = PassFor & {
  readonly by: string;
  readonly expires: string;
  readonly hashes: readonly Buffer[];
};

/** @param fixed salted hashes of own codes from the settings, by name: "salt:hash" */
export async function openPasses(
  folder: string,
  fixed: (person: string) => string | undefined = () => undefined,
): Promise<Passes> {
  const file = path.join(folder, 'passes.json');
  let kept = await readKept(file);
  const invited = new Map<string, Invited>();
  let writing: Promise<void> = Promise.resolve();

  const keep = (next: Kept): Promise<void> => {
    kept = next;
    writing = writing.catch(() => undefined).then(() => writeKept(folder, file, kept));
    return writing;
  };
  const isAlive = ({ expires }: { readonly expires: string }, now: string) =>
    Date.parse(expires) > Date.parse(now);
  const shown = ({ hash: _, ...pass }: Kept['passes'][number]): Pass => pass;
  const ownCode = (person: string) => kept.ownCodes[person] ?? fixed(person);

  return {
    list: (now) =>
      kept.passes
        .filter((pass) => isAlive(pass, now))
        .map(shown)
        .sort((a, b) => a.name.localeCompare(b.name) || a.madeAt.localeCompare(b.madeAt)),
    passOf: (secret, now) => {
      const found = fitting(kept.passes, secret, ({ hash }) => [Buffer.from(hash, 'hex')]);
      return found !== undefined && isAlive(found, now) ? shown(found) : undefined;
    },
    invite: (who, by, now) => {
      const code = Array.from({ length: SIGNS_LONG }, () => SIGNS[randomInt(SIGNS.length)]).join(
        '',
      );
      const token = randomBytes(32).toString('base64url');
      const expires = new Date(Date.parse(now) + INVITED_MS).toISOString();
      invited.set(`${who.kind} ${who.name}`, {
        ...who,
        by,
        expires,
        hashes: [hashOf(code), hashOf(token)],
      });
      return { code: `${code.slice(0, 4)}-${code.slice(4)}`, token, expires };
    },
    enter: async (given, now) => {
      for (const [key, each] of invited) if (!isAlive(each, now)) invited.delete(key);
      const asked = given.length > 20 ? given : plainCode(given);
      const found = fitting(invited.values(), asked, ({ hashes }) => hashes);
      if (found === undefined) return undefined;
      invited.delete(`${found.kind} ${found.name}`);
      const secret = randomBytes(32).toString('base64url');
      const pass = {
        kind: found.kind,
        name: found.name,
        id: randomBytes(8).toString('hex'),
        madeAt: now,
        by: found.by,
        expires: new Date(Date.parse(now) + PASS_DAYS * 86_400_000).toISOString(),
      };
      const alive = kept.passes.filter((each) => isAlive(each, now));
      await keep({
        ...kept,
        passes: [...alive, { ...pass, hash: hashOf(secret).toString('hex') }],
      });
      return { pass, secret };
    },
    end: async (id) => {
      const found = kept.passes.find((pass) => pass.id === id);
      if (found === undefined) return undefined;
      await keep({ ...kept, passes: kept.passes.filter((pass) => pass !== found) });
      return shown(found);
    },
    hasOwnCode: (person) => ownCode(person) !== undefined,
    setOwnCode: async (person, code) => {
      const salt = randomBytes(16).toString('hex');
      const hash = (await stretched(code, salt)).toString('hex');
      await keep({ ...kept, ownCodes: { ...kept.ownCodes, [person]: `${salt}:${hash}` } });
    },
    ownCodeFits: async (person, code) => {
      const [salt = '', hash = ''] = ownCode(person)?.split(':') ?? [];
      const given = await stretched(code, salt);
      const wanted = Buffer.from(hash, 'hex');
      return wanted.length === given.length && timingSafeEqual(wanted, given);
    },
  };
}

/** Takes the passes and the own code of a person out of a bench that is stopped. Resolves with how many there were. */
export async function removePersonFromPasses(
  folder: string,
  names: readonly string[],
): Promise<number> {
  const file = path.join(folder, 'passes.json');
  const kept = await readKept(file);
  const isTheirs = (name: string) => names.includes(name);
  const passes = kept.passes
    .filter(({ kind, name }) => kind === 'tablet' || !isTheirs(name))
    .map((pass) => (isTheirs(pass.by) ? { ...pass, by: 'removed person' } : pass));
  const ownCodes = Object.fromEntries(
    Object.entries(kept.ownCodes).filter(([name]) => !isTheirs(name)),
  );
  const next: Kept = { ...kept, passes, ownCodes };
  if (JSON.stringify(next) !== JSON.stringify(kept)) await writeKept(folder, file, next);
  return (
    kept.passes.length -
    passes.length +
    Object.keys(kept.ownCodes).length -
    Object.keys(ownCodes).length
  );
}

async function readKept(file: string): Promise<Kept> {
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT')
      return { version: 1, passes: [], ownCodes: {} };
    throw error;
  }
  try {
    return Kept.parse(JSON.parse(text));
  } catch {
    throw new Error(
      `The passes in ${file} cannot be read.\nPut the file back from a backup, or move it away: everybody signs in again then.`,
    );
  }
}

async function writeKept(folder: string, file: string, kept: Kept): Promise<void> {
  const handle = await open(`${file}.new`, 'w', 0o600);
  try {
    await handle.writeFile(`${JSON.stringify(kept, null, 1)}\n`);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(`${file}.new`, file);
  await syncFolder(folder);
}
