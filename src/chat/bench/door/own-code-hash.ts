// A person's own code as the settings keep it: "salt:hash". The code itself is kept nowhere.
import { scrypt } from 'node:crypto';

export const SHORTEST_OWN_CODE = 6;
export const LONGEST_OWN_CODE = 40;

/** @param salt random, hexadecimal digits */
export const ownCodeHash = (code: string, salt: string): Promise<string> =>
  new Promise((resolve, reject) =>
    scrypt(code.normalize('NFKC'), salt, 32, (error, key) =>
      error ? reject(error) : resolve(`${salt}:${key.toString('hex')}`),
    ),
  );
