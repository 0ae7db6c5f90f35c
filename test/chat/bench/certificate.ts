// A certificate of the test's own for loopback and a workshop's name, made by openssl; tests without it say so.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const hasOpenssl = spawnSync('openssl', ['version']).status === 0;

export const NAME = 'bench.harrow-lane.example';

/** PEM texts; made anew for each call. */
export function makeCertificate(days = 2): { readonly cert: string; readonly key: string } {
  const folder = mkdtempSync(join(tmpdir(), 'bench-cert-'));
  try {
    const cert = join(folder, 'cert.pem');
    const key = join(folder, 'key.pem');
    execFileSync(
      'openssl',
      [
        'req',
        '-x509',
        '-newkey',
        'ec',
        '-pkeyopt',
        'ec_paramgen_curve:prime256v1',
        '-nodes',
        '-days',
        String(days),
        '-keyout',
        key,
        '-out',
        cert,
        '-subj',
        `/CN=${NAME}`,
        '-addext',
        `subjectAltName=DNS:${NAME},IP:127.0.0.1`,
      ],
      { stdio: 'ignore' },
    );
    return { cert: readFileSync(cert, 'utf8'), key: readFileSync(key, 'utf8') };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
