// Who is let in over the workshop's network. A pass is a random secret in a device's cookie, kept here as a hash only;
// a code brings one, once. What is short enough to be tried, that code and a person's own on a shared tablet, is kept salted.
import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';
import { changePaper, type Papers } from '../../change-paper.ts';
import { fitsOwnCode, ownCodeHash } from './own-code-hash.ts';

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
  readonly list: (now: string) => Promise<readonly Pass[]>;
  readonly passOf: (secret: string, now: string) => Promise<Pass | undefined>;
  /** A code that brings a pass, once, within ten minutes. An earlier one for the same name ends. */
  readonly invite: (who: PassFor, by: string, now: string) => Promise<Invitation>;
  /** The pass behind a code or a token, synced; undefined where there is none. */
  readonly enter: (
    given: string,
    now: string,
  ) => Promise<{ readonly pass: Pass; readonly secret: string } | undefined>;
  /** Resolves with the pass that was ended; undefined where there is none. */
  readonly end: (id: string) => Promise<Pass | undefined>;
  /** Who of these has an own code. */
  readonly ownCodes: (people: readonly string[]) => Promise<ReadonlySet<string>>;
  readonly setOwnCode: (person: string, code: string) => Promise<void>;
  readonly ownCodeFits: (person: string, code: string) => Promise<boolean>;
};

const INVITED_MS = 10 * 60_000;
export const PASS_DAYS = 30;
/** Without the letters and figures that are taken for each other: 30 signs, 8 of them, about 39 bits. */
const SIGNS = '23456789ABCDEFGHJKMNPQRSTVWXYZ';
const SIGNS_LONG = 8;

/** The papers they are kept on. */
const PASSES = 'passes';
const INVITED = 'invited';

const Hash = z.string().regex(/^[0-9a-f]{64}$/);
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
      hash: Hash,
    }),
  ),
  /** "salt:hash" by name. */
  ownCodes: z.record(z.string(), z.string()),
});
type Kept = z.infer<typeof Kept>;

const Invited = z.array(
  z.strictObject({
    kind: z.enum(['own', 'tablet']),
    name: z.string(),
    by: z.string(),
    expires: z.string(),
    token: Hash,
    /** "salt:hash": 39 bits are tried in minutes against a plain hash. */
    code: z.string(),
  }),
);
type Invited = z.infer<typeof Invited>;

/** A random secret of 256 bits needs no salt: nobody can try them all. */
const hashOf = (secret: string): Buffer => createHash('sha256').update(secret).digest();

/** The one whose hash is that of the secret. Every one is compared, each in constant time. */
function fitting<T>(all: Iterable<T>, secret: string, hashIn: (one: T) => string): T | undefined {
  const hash = hashOf(secret);
  let found: T | undefined;
  for (const one of all) if (timingSafeEqual(Buffer.from(hashIn(one), 'hex'), hash)) found = one;
  return found;
}

const fittingCode = async (all: Invited, code: string): Promise<Invited[number] | undefined> => {
  const fits = await Promise.all(all.map((each) => fitsOwnCode(code, each.code)));
  return all.find((_, n) => fits[n]);
};

/** As it is typed with thumbs: small letters, gaps and dashes are all one. */
const plainCode = (given: string): string => given.toUpperCase().replace(/[^0-9A-Z]/g, '');

const readKept = (text: string | undefined): Kept => {
  if (text === undefined) return { version: 1, passes: [], ownCodes: {} };
  try {
    return Kept.parse(JSON.parse(text));
  } catch {
    throw new Error(
      'The passes (passes.json in the folder of the bench) cannot be read.\nPut the file back from a backup, or move it away: everybody signs in again then.',
    );
  }
};

const written = (kept: Kept): string => JSON.stringify(kept, null, 1);

/** What cannot be read of codes that last ten minutes counts as none. */
const readInvited = (text: string | undefined): Invited => {
  const read = text === undefined ? undefined : Invited.safeParse(JSON.parse(text));
  return read?.success ? read.data : [];
};

const isAlive = ({ expires }: { readonly expires: string }, now: string): boolean =>
  Date.parse(expires) > Date.parse(now);
const shown = ({ hash: _, ...pass }: Kept['passes'][number]): Pass => pass;

/**
 * @param fixed salted hashes of own codes from the settings, by name: "salt:hash"
 * @throws Error where what is kept cannot be read
 */
export async function openPasses(
  papers: Papers,
  fixed: (person: string) => string | undefined = () => undefined,
): Promise<Passes> {
  let last: { readonly text: string | undefined; readonly kept: Kept } | undefined;
  const now = async (): Promise<Kept> => {
    const text = (await papers.paper(PASSES))?.text;
    if (last === undefined || last.text !== text) last = { text, kept: readKept(text) };
    return last.kept;
  };
  const change = <T>(make: (kept: Kept) => readonly [Kept | undefined, T]): Promise<T> =>
    changePaper(papers, PASSES, (text) => {
      const [next, result] = make(readKept(text));
      return [next && written(next), result];
    });
  const ownCode = (kept: Kept, person: string): string | undefined =>
    kept.ownCodes[person] ?? fixed(person);
  await now();

  return {
    list: async (at) =>
      (await now()).passes
        .filter((pass) => isAlive(pass, at))
        .map(shown)
        .sort((a, b) => a.name.localeCompare(b.name) || a.madeAt.localeCompare(b.madeAt)),
    passOf: async (secret, at) => {
      const found = fitting((await now()).passes, secret, ({ hash }) => hash);
      return found !== undefined && isAlive(found, at) ? shown(found) : undefined;
    },
    invite: async (who, by, at) => {
      const code = Array.from({ length: SIGNS_LONG }, () => SIGNS[randomInt(SIGNS.length)]).join(
        '',
      );
      const token = randomBytes(32).toString('base64url');
      const expires = new Date(Date.parse(at) + INVITED_MS).toISOString();
      const kept = {
        token: hashOf(token).toString('hex'),
        code: await ownCodeHash(code, randomBytes(16).toString('hex')),
      };
      await changePaper(papers, INVITED, (text) => [
        JSON.stringify([
          ...readInvited(text).filter(
            (each) => isAlive(each, at) && !(each.kind === who.kind && each.name === who.name),
          ),
          { ...who, by, expires, ...kept },
        ]),
        undefined,
      ]);
      return { code: `${code.slice(0, 4)}-${code.slice(4)}`, token, expires };
    },
    enter: async (given, at) => {
      const aliveIn = (text: string | undefined) =>
        readInvited(text).filter((each) => isAlive(each, at));
      const known = aliveIn((await papers.paper(INVITED))?.text);
      const found =
        given.length > 20
          ? fitting(known, given, ({ token }) => token)
          : await fittingCode(known, plainCode(given));
      if (found === undefined) return undefined;
      // Taken away first: of two that come with the same code, one comes in.
      const isFirst = await changePaper(papers, INVITED, (text) => {
        const alive = aliveIn(text);
        const left = alive.filter(({ token }) => token !== found.token);
        return left.length < alive.length ? [JSON.stringify(left), true] : [undefined, false];
      });
      if (!isFirst) return undefined;
      const secret = randomBytes(32).toString('base64url');
      const pass = {
        kind: found.kind,
        name: found.name,
        id: randomBytes(8).toString('hex'),
        madeAt: at,
        by: found.by,
        expires: new Date(Date.parse(at) + PASS_DAYS * 86_400_000).toISOString(),
      };
      await change((kept) => [
        {
          ...kept,
          passes: [
            ...kept.passes.filter((each) => isAlive(each, at)),
            { ...pass, hash: hashOf(secret).toString('hex') },
          ],
        },
        undefined,
      ]);
      return { pass, secret };
    },
    end: (id) =>
      change((kept) => {
        const found = kept.passes.find((pass) => pass.id === id);
        return found === undefined
          ? [undefined, undefined]
          : [{ ...kept, passes: kept.passes.filter((pass) => pass !== found) }, shown(found)];
      }),
    ownCodes: async (people) => {
      const kept = await now();
      return new Set(people.filter((person) => ownCode(kept, person) !== undefined));
    },
    setOwnCode: async (person, code) => {
      const salted = await ownCodeHash(code, randomBytes(16).toString('hex'));
      await change((kept) => [
        { ...kept, ownCodes: { ...kept.ownCodes, [person]: salted } },
        undefined,
      ]);
    },
    ownCodeFits: async (person, code) => fitsOwnCode(code, ownCode(await now(), person)),
  };
}

/** Takes the passes, the own code and the codes that were given out of a person away. Resolves with how many there were. */
export const removePersonFromPasses = async (
  papers: Papers,
  names: readonly string[],
): Promise<number> => {
  const isTheirs = (name: string) => names.includes(name);
  const invited = await changePaper(papers, INVITED, (text) => {
    const all = readInvited(text);
    const left = all.filter(
      ({ kind, name, by }) => (kind === 'tablet' || !isTheirs(name)) && !isTheirs(by),
    );
    const gone = all.length - left.length;
    return [gone === 0 ? undefined : JSON.stringify(left), gone];
  });
  const kept = await changePaper(papers, PASSES, (text) => {
    if (text === undefined) return [undefined, 0];
    const kept = readKept(text);
    const passes = kept.passes
      .filter(({ kind, name }) => kind === 'tablet' || !isTheirs(name))
      .map((pass) => (isTheirs(pass.by) ? { ...pass, by: 'removed person' } : pass));
    const ownCodes = Object.fromEntries(
      Object.entries(kept.ownCodes).filter(([name]) => !isTheirs(name)),
    );
    const next: Kept = { ...kept, passes, ownCodes };
    const gone =
      kept.passes.length -
      passes.length +
      Object.keys(kept.ownCodes).length -
      Object.keys(ownCodes).length;
    return [JSON.stringify(next) === JSON.stringify(kept) ? undefined : written(next), gone];
  });
  return invited + kept;
};
