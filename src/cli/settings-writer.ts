// Writes somebody whom a controller took in into settings.yaml, where people are listed and can be edited.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Person, Settings } from '../../shared/settings.ts';
import { readSettings } from '../desk/settings-file.ts';
import { withPerson } from '../desk/with-person.ts';
import { diskFiles } from '../store/file-seam.ts';
import { writeWhole } from '../store/whole-write.ts';

/**
 * The people as the file lists them after the change; everything else stays as the workshop was started with.
 * @param clock the time now, ISO 8601
 * @throws Error with a remedy where the file is not to be read or would be no settings any more; nothing is written then
 */
export const settingsWriter = (
  folder: string,
  running: () => Settings,
  clock: () => string,
): ((person: Person, by: string) => Promise<Settings>) => {
  const file = join(folder, 'settings.yaml');
  return async (person, by) => {
    const before = await readFile(file, 'utf8');
    const text = withPerson(before, person, `taken in by ${by}, ${clock().slice(0, 10)}`);
    const read = text === undefined ? undefined : readSettings(text, file);
    if (text === undefined || !read?.ok)
      throw new Error(
        `${person.name} could not be written into ${file}${read && !read.ok ? `: ${read.complaints[0] ?? ''}` : ''}. Mend the file, or add the person there by hand.`,
      );
    await writeWhole(diskFiles, file, new TextEncoder().encode(text));
    return { ...running(), people: read.settings.people };
  };
};
