// The manifests: good by the platform's own schema where it is at hand, and no scope more than what is used.
import { existsSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { COMMAND, OPEN_SHORTCUT, RECORD_SHORTCUT } from '../../../src/chat/slack/listeners.ts';
import { EVENTS, SCOPES } from '../../../src/chat/slack/scopes.ts';

const read = (path: string) => readFileSync(new URL(path, import.meta.url), 'utf8');
const SCHEMA = '../../../../shared/schemas/slack-manifest.2.0.0.schema.json';
const hasSchema = existsSync(new URL(SCHEMA, import.meta.url));

for (const file of ['manifest.yaml', 'manifest.http.yaml']) {
  const text = read(`../../../manifests/slack/${file}`);
  const manifest = parse(text);
  describe(file, () => {
    it.skipIf(!hasSchema)(
      'is good by the published schema (left out where ../shared/schemas is absent)',
      () => {
        const check = new Ajv({ strict: false, allErrors: true, validateFormats: false }).compile(
          JSON.parse(read(SCHEMA)),
        );
        expect(check(manifest), JSON.stringify(check.errors)).toBe(true);
      },
    );

    it('asks for the scopes that are used, and for no other', () => {
      expect(manifest.oauth_config.scopes).toEqual({ bot: Object.keys(SCOPES).sort() });
    });

    it('explains each scope in a comment of its own', () => {
      for (const scope of Object.keys(SCOPES))
        expect(text, scope).toMatch(new RegExp(`# [A-Z][^\\n]+\\.\\n +- ${scope}\\n`, 'u'));
    });

    it('subscribes to the events that are understood', () => {
      expect(manifest.settings.event_subscriptions.bot_events).toEqual([...EVENTS]);
    });

    it('names the command and the shortcuts as the listeners do', () => {
      expect(manifest.features.slash_commands[0].command).toBe(COMMAND);
      expect(
        manifest.features.shortcuts.map((each: { callback_id: string }) => each.callback_id),
      ).toEqual([OPEN_SHORTCUT, RECORD_SHORTCUT]);
    });
  });
}
