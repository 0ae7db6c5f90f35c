// Makes the app package for Teams: the manifest with your ids in it, and the icons, in one zip file.
// Run it from the project's folder: node --import tsx manifests/teams/package.ts [OUT.zip]
import { readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Resvg } from '@resvg/resvg-js';
import { zipSync } from 'fflate';
import { teamsCredentialsFrom } from '../../src/chat/teams/credentials.ts';

const HERE = import.meta.dirname;
const PLACEHOLDER = /00000000-0000-4000-8000-000000000000/gu;
const DOMAIN = /workshop\.example/gu;

export const icon = (name: 'color' | 'outline'): Uint8Array =>
  new Resvg(readFileSync(join(HERE, `${name}.svg`), 'utf8')).render().asPng();

/**
 * @param clientId the bot's application id
 * @param publicUrl where the messaging endpoint is reached, with https
 */
export const manifestFor = (clientId: string, publicUrl: string): string =>
  readFileSync(join(HERE, 'manifest.json'), 'utf8')
    .replace(PLACEHOLDER, clientId)
    .replace(DOMAIN, new URL(publicUrl).host);

/** @returns the bytes of the zip file; the same input gives the same bytes */
export const packageFor = (clientId: string, publicUrl: string): Uint8Array =>
  zipSync(
    {
      'manifest.json': new TextEncoder().encode(manifestFor(clientId, publicUrl)),
      'color.png': icon('color'),
      'outline.png': icon('outline'),
    },
    { mtime: '2026-01-01T00:00:00Z' },
  );

const main = (): void => {
  try {
    process.loadEnvFile(resolve('.env'));
  } catch {
    // Without a .env file the environment alone counts.
  }
  const found = teamsCredentialsFrom(process.env);
  if (found.kind !== 'ready' || !found.credentials.publicUrl) {
    const [what, doThis] =
      found.kind === 'half'
        ? [found.what, found.doThis]
        : [
            'The Teams credentials or TEAMS_PUBLIC_URL are not set.',
            'Set them in .env as the README says under "Into Teams", and run this again.',
          ];
    process.stderr.write(`${what}\n${doThis}\n`);
    process.exitCode = 2;
    return;
  }
  const out = resolve(process.argv[2] ?? 'chargehand-teams.zip');
  writeFileSync(out, packageFor(found.credentials.clientId, found.credentials.publicUrl));
  process.stdout.write(`Written: ${out}\nUpload it in Teams under Apps, "Manage your apps".\n`);
};

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) main();
