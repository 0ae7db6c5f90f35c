// The app package: good by the platform's own schema where it is at hand, and no permission more than what is used.
import { existsSync, readFileSync } from 'node:fs';
import * as draft04 from 'ajv-draft-04';
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { icon, manifestFor, packageFor } from '../../../manifests/teams/package.ts';
import { CLIENT_ID } from './fake-teams.ts';

const SCHEMA = new URL(
  '../../../../shared/schemas/teams-manifest.1.25.schema.json',
  import.meta.url,
);
/** The package has two shapes of export, one for each kind of module. */
const Ajv = draft04.default as unknown as new (
  options: object,
) => { compile: (schema: object) => ((value: unknown) => boolean) & { errors?: unknown } };
const hasSchema = existsSync(SCHEMA);
const URL_OF = 'https://depot.example:8443/bot';
const manifest = () => JSON.parse(manifestFor(CLIENT_ID, URL_OF));

/** Width and height from a PNG's header; source: PNG specification, IHDR. */
const sizeOf = (png: Uint8Array): readonly [number, number] => {
  const view = new DataView(png.buffer, png.byteOffset);
  return [view.getUint32(16), view.getUint32(20)];
};

describe('the app package for Teams', () => {
  it.skipIf(!hasSchema)(
    'is good by the published schema (left out where ../shared/schemas is absent)',
    () => {
      const check = new Ajv({ strict: false, allErrors: true, validateFormats: false }).compile(
        JSON.parse(readFileSync(SCHEMA, 'utf8')),
      );
      expect(check(manifest()), JSON.stringify(check.errors)).toBe(true);
      expect(check({ ...manifest(), extra: 1 })).toBe(false);
    },
  );

  it('carries the ids and the address it was made for, and no placeholder', () => {
    const text = manifestFor(CLIENT_ID, URL_OF);
    expect(text).not.toMatch(/00000000-|workshop\.example/u);
    expect(manifest()).toMatchObject({
      id: CLIENT_ID,
      bots: [{ botId: CLIENT_ID }],
      webApplicationInfo: { id: CLIENT_ID },
      validDomains: ['depot.example:8443'],
    });
  });

  it('asks for the two permissions that are used, and for no other', () => {
    expect(manifest().authorization.permissions.resourceSpecific).toEqual([
      { name: 'ChannelMessage.Read.Group', type: 'Application' },
      { name: 'ChatMessage.Read.Chat', type: 'Application' },
    ]);
    expect(
      readFileSync(new URL('../../../manifests/teams/README.md', import.meta.url), 'utf8'),
    ).toMatch(/ChannelMessage\.Read\.Group[\s\S]+ChatMessage\.Read\.Chat/u);
  });

  it('holds the manifest and icons of the sizes that Teams takes', () => {
    const files = unzipSync(packageFor(CLIENT_ID, URL_OF));
    expect(Object.keys(files).sort()).toEqual(['color.png', 'manifest.json', 'outline.png']);
    expect(sizeOf(files['color.png'] ?? new Uint8Array())).toEqual([192, 192]);
    expect(sizeOf(files['outline.png'] ?? new Uint8Array())).toEqual([32, 32]);
    expect(icon('color').length).toBeGreaterThan(500);
    expect(Buffer.from(packageFor(CLIENT_ID, URL_OF))).toEqual(
      Buffer.from(packageFor(CLIENT_ID, URL_OF)),
    );
  });
});
