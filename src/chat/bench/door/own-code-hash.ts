// A code that is short enough to be typed, as it is kept: salted and stretched, "salt:hash". The code itself is kept nowhere.
import { scrypt, timingSafeEqual } from 'node:crypto';

export const OWN_CODE = /^\S{6,40}$/u;
export const OWN_CODE_WORDS = '6 to 40 figures or letters without gaps';

const stretched = (code: string, salt: string): Promise<Buffer> =>
  new Promise((resolve, reject) =>
    scrypt(code.normalize('NFKC'), salt, 32, (error, key) =>
      error ? reject(error) : resolve(key),
    ),
  );

/** @param salt random, hexadecimal digits */
export const ownCodeHash = async (code: string, salt: string): Promise<string> =>
  `${salt}:${(await stretched(code, salt)).toString('hex')}`;

/** @param kept "salt:hash"; no code fits where it is undefined */
export const fitsOwnCode = async (code: string, kept: string | undefined): Promise<boolean> => {
  const [salt = '', hash = ''] = kept?.split(':') ?? [];
  const given = await stretched(code, salt);
  const wanted = Buffer.from(hash, 'hex');
  return wanted.length === given.length && timingSafeEqual(wanted, given);
};
