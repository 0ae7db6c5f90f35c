// What a move takes along beside the jobs: the talk of the bench, its passes and photos, plans that were saved on the page,
// people who were taken in, and closed jobs with something still to come.
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Person } from '../../shared/settings.ts';
import { DELIVERY_PREFIX } from '../chat/bench/talk/hand-in.ts';
import type { JobStore } from '../store/job-store.ts';
import type { SharedShelf } from '../store/shared-shelf.ts';

export type CarriedBench = { readonly lines: number; readonly photos: number };

type Line = { readonly what: string; readonly id: string; readonly client?: string };

const isLine = (value: unknown): value is Line =>
  typeof value === 'object' &&
  value !== null &&
  'what' in value &&
  'id' in value &&
  typeof value.id === 'string';

const filesIn = (folder: string): Promise<readonly string[]> =>
  readdir(folder).then(
    (names) => names.sort(),
    () => [],
  );

const linesIn = async (file: string): Promise<readonly string[]> =>
  (await readFile(file, 'utf8').catch(() => '')).split('\n').filter((line) => line.trim() !== '');

const parsed = (line: string): unknown => {
  try {
    return JSON.parse(line);
  } catch {
    return undefined;
  }
};

/** @param folder the data folder. Nothing of the talk is added where the shelf has some already */
export const benchToShelf = async (folder: string, shelf: SharedShelf): Promise<CarriedBench> => {
  const bench = join(folder, 'bench');
  const threads = join(bench, 'threads');
  const held = new Map<string, string>();
  for (const body of await linesIn(join(bench, 'arrivals.jsonl'))) {
    const delivery = parsed(body) as { readonly id?: unknown } | undefined;
    if (typeof delivery?.id === 'string') held.set(delivery.id, body);
  }
  let lines = 0;
  const add = async (roll: string, file: string): Promise<void> => {
    for (const body of await linesIn(file)) {
      const line = parsed(body);
      if (!isLine(line)) continue;
      const { what, id, client } = line;
      const marks = client === undefined ? {} : { once: `${what}:${client}` };
      await shelf.addLine({ roll, about: id, ...marks, body });
      lines += 1;
      // What is still on its way in has to be handed in first.
      if (client !== undefined && !held.has(`${DELIVERY_PREFIX}${client}`))
        await shelf.addLine({
          roll,
          about: id,
          once: `taken:${what}:${client}`,
          body: JSON.stringify({ what: 'taken', id, client }),
        });
    }
  };
  if ((await shelf.head()).n === 0) {
    await add('', join(bench, 'yard.jsonl'));
    for (const name of await filesIn(threads))
      if (name.endsWith('.jsonl')) await add(name.slice(0, -'.jsonl'.length), join(threads, name));
  }
  for (const [id, body] of held) await shelf.hold(id, body);
  let photos = 0;
  for (const name of await filesIn(join(bench, 'photos'))) {
    if (name.endsWith('.new')) continue;
    await shelf.keepBytes(`photo:${name}`, await readFile(join(bench, 'photos', name)));
    photos += 1;
  }
  const passes = await readFile(join(bench, 'passes.json'), 'utf8').catch(() => undefined);
  if (passes !== undefined) await shelf.writePaper('passes', passes, 0);
  const secret = await readFile(join(bench, 'contact-secret')).catch(() => undefined);
  if (secret !== undefined) await shelf.writePaper('contact', secret.toString('base64'), 0);
  for (const name of await filesIn(join(folder, 'plans')))
    if (name.endsWith('.yaml')) {
      const text = await readFile(join(folder, 'plans', name), 'utf8');
      await shelf.writePaper(`plan:${name.slice(0, -'.yaml'.length)}`, JSON.stringify(text), 0);
    }
  return { lines, photos };
};

/**
 * @param folder a new data folder
 * @returns those who were taken in too, for whoever writes its settings
 */
export const benchFromShelf = async (
  shelf: SharedShelf,
  folder: string,
  store: Pick<JobStore, 'setMark'>,
): Promise<CarriedBench & { readonly people: readonly string[] }> => {
  const bench = join(folder, 'bench');
  await mkdir(join(bench, 'threads'), { recursive: true, mode: 0o700 });
  await mkdir(join(bench, 'photos'), { recursive: true, mode: 0o700 });
  const { n } = await shelf.head();
  let lines = 0;
  for (const roll of await shelf.rolls()) {
    const own = (await shelf.linesOf(roll, n))
      .filter((line) => line.roll === roll)
      .map(({ body }) => body)
      .filter((body) => (parsed(body) as Partial<Line> | undefined)?.what !== 'taken');
    const file = roll === '' ? 'yard.jsonl' : join('threads', `${roll}.jsonl`);
    await writeFile(join(bench, file), own.map((body) => `${body}\n`).join(''), { mode: 0o600 });
    lines += own.length;
  }
  const held = (await shelf.leftBehind(0)).map((body) => `${body}\n`).join('');
  await writeFile(join(bench, 'arrivals.jsonl'), held, { mode: 0o600 });
  const photos = await shelf.namesOfBytes('photo:');
  for (const name of photos) {
    const bytes = await shelf.readBytes(name);
    if (bytes) await writeFile(join(bench, 'photos', name.slice('photo:'.length)), bytes);
  }
  const passes = await shelf.paper('passes');
  if (passes) await writeFile(join(bench, 'passes.json'), passes.text, { mode: 0o600 });
  const secret = await shelf.paper('contact');
  if (secret)
    await writeFile(join(bench, 'contact-secret'), Buffer.from(secret.text, 'base64'), {
      mode: 0o600,
    });
  await mkdir(join(folder, 'plans'), { recursive: true });
  for (const { name, text } of await shelf.papers('plan:'))
    await writeFile(
      join(folder, 'plans', `${name.slice('plan:'.length)}.yaml`),
      JSON.parse(text) as string,
    );
  const followed = (await shelf.papers('follow-up:')).map(({ name }) =>
    name.slice('follow-up:'.length),
  );
  await store.setMark('follow-ups', JSON.stringify(followed.sort()));
  const taken = JSON.parse((await shelf.paper('people'))?.text ?? '[]') as readonly {
    readonly person: Person;
  }[];
  return { lines, photos: photos.length, people: taken.map(({ person }) => person.name) };
};
