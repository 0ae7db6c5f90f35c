// `start --network`: what it takes to open the bench to the workshop's network, checked before anything is started.
import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { isIP } from 'node:net';
import { hostname } from 'node:os';
import type { BenchNetwork } from '../chat/bench/bench-options.ts';
import { diskTrouble } from './known-trouble.ts';

export type NetworkWords = {
  readonly network?: boolean | undefined;
  readonly cert?: string | undefined;
  readonly key?: string | undefined;
  readonly 'behind-proxy'?: boolean | undefined;
  readonly host?: string | undefined;
  readonly name?: readonly string[] | undefined;
};

export type NetworkFound =
  | { readonly kind: 'none' }
  | { readonly kind: 'found'; readonly host: string; readonly network: BenchNetwork }
  | { readonly kind: 'wrong'; readonly what: string; readonly doThis: string };

const wrong = (what: string, doThis: string): NetworkFound => ({ kind: 'wrong', what, doThis });

/** How to come by a certificate, for the machine's own name. */
const howTo = (): string => {
  const name = hostname().toLowerCase();
  return `Give --cert FILE and --key FILE, or --behind-proxy where a proxy before it does TLS. The certificate comes from whoever runs your network, from a public authority for a name you own, or make one: openssl req -x509 -newkey rsa:2048 -nodes -days 365 -keyout key.pem -out cert.pem -subj "/CN=${name}" -addext "subjectAltName=DNS:${name}" and install cert.pem as trusted on each device.`;
};

const fileText = async (file: string, what: string): Promise<string | NetworkFound> => {
  try {
    return await readFile(file, 'utf8');
  } catch (error) {
    return wrong(
      `The ${what} ${file} ${diskTrouble(error)?.what ?? 'cannot be read.'}`,
      'Check the name of the file and who may read it.',
    );
  }
};

/** Names and addresses of a certificate, those with a star left out; its common name where it has no others. */
const namesOf = (certificate: X509Certificate): readonly string[] => {
  const alternatives = [
    ...(certificate.subjectAltName ?? '').matchAll(/(?:DNS|IP Address):([^,\s]+)/gu),
  ].map((match) => match[1] ?? '');
  const common = /^CN=(\S+)$/mu.exec(certificate.subject)?.[1];
  const all = alternatives.length > 0 ? alternatives : common === undefined ? [] : [common];
  return all.filter((name) => !name.includes('*'));
};

/** @param now ISO; a certificate that is out of date then is refused */
export const networkFrom = async (words: NetworkWords, now: string): Promise<NetworkFound> => {
  const { cert, key, host } = words;
  const behindProxy = words['behind-proxy'] === true;
  const names = words.name ?? [];
  if (words.network !== true) {
    const stray = ['cert', 'key', 'behind-proxy', 'host', 'name'].find(
      (each) => words[each as keyof NetworkWords] !== undefined,
    );
    return stray === undefined
      ? { kind: 'none' }
      : wrong(
          `--${stray} says something about the network only.`,
          'Add --network, or leave it out.',
        );
  }
  if (behindProxy && (cert !== undefined || key !== undefined))
    return wrong(
      'A certificate and --behind-proxy do not go together: one of the two does TLS.',
      'Leave one of them out.',
    );
  if (behindProxy) {
    return {
      kind: 'found',
      host: host ?? '127.0.0.1',
      network: names.length === 0 ? {} : { names },
    };
  }
  if (cert === undefined || key === undefined)
    return wrong(
      'The bench is not opened to the network without a certificate: phones keep pages offline and cookies safe over TLS only.',
      howTo(),
    );
  const certText = await fileText(cert, 'certificate');
  if (typeof certText !== 'string') return certText;
  const keyText = await fileText(key, 'key');
  if (typeof keyText !== 'string') return keyText;
  let certificate: X509Certificate;
  try {
    certificate = new X509Certificate(certText);
  } catch {
    return wrong(`The certificate ${cert} is not one in PEM form.`, howTo());
  }
  try {
    if (!certificate.checkPrivateKey(createPrivateKey(keyText)))
      return wrong(
        `The key ${key} is not that of the certificate ${cert}.`,
        'Give the two that were made together.',
      );
  } catch {
    return wrong(`The key ${key} is not one in PEM form without a password.`, howTo());
  }
  if (Date.parse(certificate.validTo) < Date.parse(now))
    return wrong(
      `The certificate ${cert} ended on ${certificate.validTo}.`,
      'Renew it, then start again.',
    );
  const foreign = names.find(
    (name) =>
      (isIP(name) === 0 ? certificate.checkHost(name) : certificate.checkIP(name)) === undefined,
  );
  if (foreign !== undefined)
    return wrong(
      `The certificate ${cert} does not speak for ${foreign}.`,
      'Give a name that stands in it, or a certificate for this name.',
    );
  const own = names.length > 0 ? names : namesOf(certificate);
  if (own.length === 0)
    return wrong(
      `The certificate ${cert} names no address people could open.`,
      'Say which with --name, such as --name bench.example.org.',
    );
  return {
    kind: 'found',
    host: host ?? '0.0.0.0',
    network: { names: own, tls: { cert: certText, key: keyText } },
  };
};
