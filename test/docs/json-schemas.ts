// JSON Schemas of the file formats, for editors and other programs, made from the zod schemas in shared/.
import { mkdirSync, writeFileSync } from 'node:fs';
import { z } from 'zod';
import { JobEvent, StoredEvent } from '../../shared/event.ts';
import { Flag } from '../../shared/flag.ts';
import { PlanCheckResult, PlanFile } from '../../shared/plan.ts';
import { ReadInput, Reading } from '../../shared/reading.ts';
import { JobRecord } from '../../shared/record.ts';
import { ReplayResult, TranscriptLine } from '../../shared/replay.ts';
import { Settings } from '../../shared/settings.ts';

/** Goes up when a program that reads or writes the old form would have to change. */
export const FORMAT_VERSION = 1;

const FORMATS: Readonly<Record<string, readonly [title: string, schema: z.ZodType]>> = {
  plan: ['A plan file, after YAML is read', PlanFile],
  'plan-check-result': ['What `plan check FILE --json` prints', PlanCheckResult],
  'read-input': ['One line that `read` takes', ReadInput],
  reading: ['One line that `read` prints', Reading],
  'transcript-line': ['One line of a transcript for `replay`', TranscriptLine],
  replay: ['What `replay --json` prints', ReplayResult],
  event: ['One recorded fact of a job', JobEvent],
  'stored-event': ['One recorded fact as it is kept, with its hash', StoredEvent],
  flag: ['One flag of the checker', Flag],
  'job-record': ['What `record JOB --format json` prints', JobRecord],
  settings: ['The settings file of a workshop, after YAML is read', Settings],
};

export const schemaFolder = new URL('../../shared/json/', import.meta.url);

/** Name and content of every schema file. Draft 7, which the most editors read. */
export function schemaFiles(): ReadonlyMap<string, string> {
  const files = Object.entries(FORMATS).map(([name, [title, schema]]): [string, string] => {
    const { $schema, ...body } = z.toJSONSchema(schema, { target: 'draft-7', io: 'input' });
    const whole = { $schema, $id: `urn:chargehand:${name}:${FORMAT_VERSION}`, title, ...body };
    return [`${name}.schema.json`, `${JSON.stringify(whole, null, 2)}\n`];
  });
  return new Map(files);
}

/** Writes them into shared/json. */
export function writeSchemas(): void {
  mkdirSync(schemaFolder, { recursive: true });
  for (const [name, text] of schemaFiles()) writeFileSync(new URL(name, schemaFolder), text);
}
