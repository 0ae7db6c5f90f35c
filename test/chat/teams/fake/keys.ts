// Keys of the stand-in's sign-in service: it signs tokens as the platform does, so that their check is never left out.
import { createSign, generateKeyPairSync, type KeyObject } from 'node:crypto';

const KID = 'fake-key-1';

const part = (value: unknown): string => Buffer.from(JSON.stringify(value)).toString('base64url');

export type Keys = {
  /** The published half, as a key set. */
  readonly published: unknown;
  readonly sign: (claims: Readonly<Record<string, unknown>>) => string;
};

let shared: Keys | undefined;

/** The platform's own keys: one pair for all stand-ins of a run, since making one takes long. */
export const platformKeys = (): Keys => {
  shared ??= makeKeys();
  return shared;
};

export const makeKeys = (kid = KID): Keys => {
  const { publicKey, privateKey } = generateKeyPairSync('rsa', { modulusLength: 2048 });
  return {
    published: {
      keys: [
        { ...(publicKey as KeyObject).export({ format: 'jwk' }), kid, use: 'sig', alg: 'RS256' },
      ],
    },
    sign: (claims) => {
      const body = `${part({ alg: 'RS256', typ: 'JWT', kid })}.${part(claims)}`;
      const signature = createSign('RSA-SHA256')
        .update(body)
        .sign(privateKey)
        .toString('base64url');
      return `${body}.${signature}`;
    },
  };
};
