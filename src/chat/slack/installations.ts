// Which workspaces have installed the app, one file each, the token encrypted: AES-256-GCM with a key from the environment.
// The team's id is bound into the encryption, so a token moved into another workspace's file opens nothing.
import { createCipheriv, createDecipheriv, createHash, randomBytes } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import type { SharedShelf } from '../../store/shared-shelf.ts';
import { changePaper } from '../change-paper.ts';

export type Installation = {
  readonly team: string;
  /** The workspace's name, as Slack gives it. */
  readonly name: string;
  /** Member id of whoever installed it. */
  readonly by: string;
  /** When, ISO 8601. */
  readonly at: string;
  /** xoxb-… */
  readonly token: string;
};

export type TokenKeys = { readonly current: Buffer; readonly old?: Buffer };

/** A file that cannot be used, or a key that does not open it: what, and what to do, each one line. */
export class InstallationTrouble extends Error {
  readonly what: string;
  readonly doThis: string;
  constructor(what: string, doThis: string) {
    super(`${what} ${doThis}`);
    this.what = what;
    this.doThis = doThis;
  }
}

const Base64 = z.string().regex(/^[A-Za-z0-9+/]+={0,2}$/u);
const Stored = z.strictObject({
  version: z.literal(1),
  team: z.string().regex(/^[TE][A-Z0-9]{2,20}$/u),
  name: z.string(),
  by: z.string(),
  at: z.string(),
  token: z.strictObject({ key: z.string(), iv: Base64, tag: Base64, data: Base64 }),
});
type Stored = z.infer<typeof Stored>;

const KEY_BYTES = 32;
const IV_BYTES = 12;

/** 32 bytes written as 64 hexadecimal digits or as base64; undefined for anything else. */
export const keyFrom = (text: string): Buffer | undefined => {
  if (/^[0-9a-f]{64}$/iu.test(text)) return Buffer.from(text, 'hex');
  const bytes = /^[A-Za-z0-9+/_-]{43}=?$/u.test(text) ? Buffer.from(text, 'base64') : undefined;
  return bytes?.length === KEY_BYTES ? bytes : undefined;
};

/** Tells keys apart in a file without telling anything of the key. */
const nameOf = (key: Buffer): string =>
  createHash('sha256').update('chargehand token key').update(key).digest('hex').slice(0, 12);

const seal = (key: Buffer, team: string, token: string): Stored['token'] => {
  const iv = randomBytes(IV_BYTES);
  const cipher = createCipheriv('aes-256-gcm', key, iv).setAAD(Buffer.from(team));
  const data = Buffer.concat([cipher.update(token, 'utf8'), cipher.final()]);
  return {
    key: nameOf(key),
    iv: iv.toString('base64'),
    tag: cipher.getAuthTag().toString('base64'),
    data: data.toString('base64'),
  };
};

/** Throws where the file was changed or belongs to another workspace. */
const unseal = (key: Buffer, team: string, sealed: Stored['token']): string => {
  const decipher = createDecipheriv('aes-256-gcm', key, Buffer.from(sealed.iv, 'base64'), {
    authTagLength: 16,
  })
    .setAAD(Buffer.from(team))
    .setAuthTag(Buffer.from(sealed.tag, 'base64'));
  return Buffer.concat([
    decipher.update(Buffer.from(sealed.data, 'base64')),
    decipher.final(),
  ]).toString('utf8');
};

export type Installations = {
  /** All of them; tokens under the old key are encrypted anew under the current one. Throws InstallationTrouble. */
  readonly list: () => Promise<readonly Installation[]>;
  /** Resolves once it is on the disk. */
  readonly save: (installation: Installation) => Promise<void>;
  readonly remove: (team: string) => Promise<void>;
};

/** Where they are kept, a sealed text by the name of its file. */
type Cabinet = {
  /** What a name stands for, in words to people. */
  readonly where: (name: string) => string;
  readonly names: () => Promise<readonly string[]>;
  readonly read: (name: string) => Promise<string>;
  /** Resolves once it is synced. */
  readonly write: (name: string, text: string) => Promise<void>;
  readonly remove: (name: string) => Promise<void>;
};

const folderCabinet = (folder: string): Cabinet => ({
  where: (name) => join(folder, name),
  names: async () => {
    try {
      return await readdir(folder);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
      throw error;
    }
  },
  read: (name) => readFile(join(folder, name), 'utf8'),
  write: async (name, text) => {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    const waiting = join(folder, `.${name}.tmp`);
    const file = await open(waiting, 'w', 0o600);
    try {
      await file.writeFile(text);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(waiting, join(folder, name));
    const names = await open(folder, 'r');
    await names.sync().finally(() => names.close());
  },
  remove: (name) => rm(join(folder, name), { force: true }),
});

const PAPER = 'installation:';

/** On the shelf that several processes share: each of them serves every workspace. */
export const sharedCabinet = (
  shelf: Pick<SharedShelf, 'paper' | 'papers' | 'writePaper' | 'removePaper'>,
): Cabinet => ({
  where: (name) => `${name} in the database`,
  names: async () => (await shelf.papers(PAPER)).map(({ name }) => name.slice(PAPER.length)),
  read: async (name) => (await shelf.paper(`${PAPER}${name}`))?.text ?? '',
  // The last one stands, whoever wrote in between.
  write: (name, text) => changePaper(shelf, `${PAPER}${name}`, () => [text, undefined]),
  remove: (name) => shelf.removePaper(`${PAPER}${name}`),
});

/** @param kept the folder of their files, or where else they are kept */
export const installations = (kept: string | Cabinet, keys: TokenKeys): Installations => {
  const cabinet = typeof kept === 'string' ? folderCabinet(kept) : kept;
  const nameFor = (team: string): string => `${team}.json`;

  const write = (stored: Stored): Promise<void> =>
    cabinet.write(nameFor(stored.team), `${JSON.stringify(stored, null, 1)}\n`);

  const save = async ({ token, ...rest }: Installation): Promise<void> =>
    write({ version: 1, ...rest, token: seal(keys.current, rest.team, token) });

  const read = async (name: string): Promise<Installation> => {
    const path = cabinet.where(name);
    let stored: Stored;
    try {
      stored = Stored.parse(JSON.parse(await cabinet.read(name)));
    } catch {
      throw new InstallationTrouble(
        `The installation ${path} is damaged.`,
        'Remove the file and install the app to that workspace again; its jobs stay.',
      );
    }
    const key = [keys.current, ...(keys.old ? [keys.old] : [])].find(
      (each) => nameOf(each) === stored.token.key,
    );
    if (!key)
      throw new InstallationTrouble(
        `The token in ${path} was encrypted with another key than CHARGEHAND_TOKEN_KEY.`,
        'Set the key it was encrypted with, as CHARGEHAND_TOKEN_KEY_OLD if it was changed; or remove the file and install again.',
      );
    const { version: _, token: sealed, ...rest } = stored;
    let token: string;
    try {
      token = unseal(key, stored.team, sealed);
    } catch {
      throw new InstallationTrouble(
        `The token in ${path} does not open: the file was changed, or is that of another workspace.`,
        'Put it back from a backup, or remove it and install the app to that workspace again.',
      );
    }
    if (`${stored.team}.json` !== name)
      throw new InstallationTrouble(
        `The installation ${path} is that of the workspace ${stored.team}.`,
        `Name the file ${stored.team}.json, or remove it.`,
      );
    if (key !== keys.current) await save({ ...rest, token });
    return { ...rest, token };
  };

  return {
    list: async () => {
      const names = await cabinet.names();
      const all: Installation[] = [];
      for (const name of names.filter((each) => /^[^.].*\.json$/u.test(each)).sort())
        all.push(await read(name));
      return all;
    },
    save,
    remove: (team) => cabinet.remove(nameFor(team)),
  };
};
