// `start --network`: refused without what it takes, and told how to get it.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { networkFrom } from '../../src/cli/network.ts';
import { hasOpenssl, makeCertificate, NAME } from '../chat/bench/certificate.ts';

const NOW = '2025-03-04T10:42:00.000Z';
let folder = '';
const at = (name: string): string => join(folder, name);
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'network-'));
  if (!hasOpenssl) return;
  for (const which of ['one', 'other']) {
    const { cert, key } = makeCertificate();
    writeFileSync(at(`${which}-cert.pem`), cert);
    writeFileSync(at(`${which}-key.pem`), key);
  }
  writeFileSync(at('no.pem'), 'not a certificate');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('without a network', () => {
  it('is nothing', async () => {
    expect(await networkFrom({}, NOW)).toEqual({ kind: 'none' });
  });
  it.each([{ cert: 'a.pem' }, { 'behind-proxy': true }, { host: '0.0.0.0' }])(
    '%j asks for --network',
    async (words) => {
      const found = await networkFrom(words, NOW);
      expect(found).toMatchObject({ kind: 'wrong', doThis: expect.stringMatching(/--network/) });
    },
  );
});

describe('--network', () => {
  it.each([{}, { cert: 'a.pem' }, { key: 'a.pem' }])(
    '%j is refused, and how to come by a certificate is said',
    async (words) => {
      const found = await networkFrom({ network: true, ...words }, NOW);
      if (found.kind !== 'wrong') throw new Error('It was taken.');
      expect(found.what).toMatch(/without a certificate/);
      expect(found.doThis).toMatch(/--cert FILE.*--key FILE.*--behind-proxy.*openssl req -x509/);
    },
  );

  it('is refused by the command with exit code 2, before anything is started', () => {
    const data = at('data');
    const ran = spawnSync(
      process.execPath,
      ['src/cli/chargehand.js', 'start', '--network', '--data', data],
      { encoding: 'utf8', timeout: 30_000 },
    );
    expect([ran.status, ran.stdout]).toEqual([2, '']);
    expect(ran.stderr.split('\n')).toHaveLength(3);
  });

  it('takes --behind-proxy on this machine, with names or without', async () => {
    expect(await networkFrom({ network: true, 'behind-proxy': true }, NOW)).toEqual({
      kind: 'found',
      host: '127.0.0.1',
      network: {},
    });
    const named = { network: true, 'behind-proxy': true, name: [NAME], host: '0.0.0.0' };
    expect(await networkFrom(named, NOW)).toEqual({
      kind: 'found',
      host: '0.0.0.0',
      network: { names: [NAME] },
    });
  });

  it('names a file that is not there', async () => {
    const found = await networkFrom({ network: true, cert: at('none.pem'), key: at('k') }, NOW);
    expect(found).toMatchObject({ kind: 'wrong', what: expect.stringContaining('none.pem') });
  });
});

const withOpenssl = hasOpenssl ? 'with a certificate' : 'with a certificate (left out: no openssl)';
describe.skipIf(!hasOpenssl)(withOpenssl, () => {
  const words = (cert: string, key: string, more: object = {}) => ({
    network: true,
    cert: at(cert),
    key: at(key),
    ...more,
  });
  const lately = () => new Date().toISOString();

  it('answers to the names that stand in it', async () => {
    const found = await networkFrom(words('one-cert.pem', 'one-key.pem'), lately());
    expect(found).toMatchObject({
      kind: 'found',
      host: '0.0.0.0',
      network: { names: [NAME, '127.0.0.1'] },
    });
  });

  it.each([
    ['another key', 'one-cert.pem', 'other-key.pem', {}, /is not that of the certificate/],
    ['no certificate', 'no.pem', 'one-key.pem', {}, /not one in PEM form/],
    ['no key', 'one-cert.pem', 'no.pem', {}, /not one in PEM form/],
    ['a foreign name', 'one-cert.pem', 'one-key.pem', { name: ['evil.example'] }, /does not speak/],
    [
      'a proxy as well',
      'one-cert.pem',
      'one-key.pem',
      { 'behind-proxy': true },
      /do not go together/,
    ],
  ] as const)('refuses %s', async (_what, cert, key, more, says) => {
    const found = await networkFrom(words(cert, key, more), lately());
    expect(found).toMatchObject({ kind: 'wrong', what: expect.stringMatching(says) });
  });

  it('refuses one that has ended', async () => {
    const found = await networkFrom(words('one-cert.pem', 'one-key.pem'), '2999-01-01T00:00:00Z');
    expect(found).toMatchObject({ kind: 'wrong', what: expect.stringMatching(/ended on/) });
  });
});
