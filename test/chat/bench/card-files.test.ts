// Files and pictures of a card on the bench: shown, light and dark, and handed out under the name people save.
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Card } from '../../../src/desk/card.ts';
import { type BenchRun, openThread, runBench, YARD } from './bench-run.ts';
import { job1042 } from './fake-view.ts';

const CARD: Card = {
  text: 'Record.',
  blocks: [{ kind: 'text', text: 'Record.' }],
  picture: { svg: '<svg>light</svg>', dark: '<svg>dark</svg>', alt: 'The job as bars' },
  files: [
    {
      job: '1042',
      kept: 'ab12.pdf',
      name: 'job-1042 "record".pdf',
      type: 'application/pdf',
      says: 'The record to print, 7 pages',
      bytes: 20_480,
    },
  ],
};

let run: BenchRun;
let thread: string;
const asked: unknown[] = [];
beforeEach(async () => {
  run = await runBench();
  Object.assign(run.floor, {
    fileOf: async (file: { readonly kept: string }) => {
      asked.push(file.kept);
      return file.kept === 'ab12.pdf' ? Buffer.from('%PDF-bytes') : undefined;
    },
  });
  run.view.put(job1042);
  thread = await openThread(run);
});
afterEach(() => run.end());

const posted = async (card = CARD, place = {}): Promise<string> => {
  const result = await run.bench.post({ ...YARD, thread, ...place }, card, `1042/${card.text}`);
  if (!result.ok) throw new Error('The card was not posted.');
  return result.posted.message;
};

it('a file is linked with what it is, its name and its size, and handed out to be saved', async () => {
  const id = await posted();
  const page = await (await run.get('/job/1042')).text();
  const [link = ''] = page.match(/\/file\/[^"]+/u) ?? [];
  expect(link).toBe(`/file/${id}/ab12.pdf?thread=${thread}`);
  expect(page).toContain('The record to print, 7 pages</a>');
  expect(page).toContain('20 kB');
  const answer = await run.get(link);
  expect(answer.status).toBe(200);
  expect(await answer.text()).toBe('%PDF-bytes');
  expect(answer.headers.get('content-type')).toBe('application/pdf');
  // What stands in quotes in a name cannot end the header's own.
  expect(answer.headers.get('content-disposition')).toBe(
    'attachment; filename="job-1042--record-.pdf"',
  );
  expect(answer.headers.get('content-security-policy')).toContain('sandbox');
});

it('only what the card carries is handed out, and only to those who see it', async () => {
  const id = await posted();
  asked.length = 0;
  expect((await run.get(`/file/${id}/other.pdf?thread=${thread}`)).status).toBe(404);
  expect((await run.get(`/file/p-none/ab12.pdf?thread=${thread}`)).status).toBe(404);
  const only = await posted({ ...CARD, text: 'For one.' }, { person: 'Nell' });
  expect((await run.get(`/file/${only}/ab12.pdf?thread=${thread}`, 'Jorn')).status).toBe(404);
  expect(asked).toEqual([]);
});

it('a picture is light or dark as the page is, and opens by itself', async () => {
  const id = await posted();
  const page = await (await run.get('/job/1042')).text();
  expect(page).toContain(
    `<source media="(prefers-color-scheme: dark)" srcset="/picture/${id}.dark.svg?thread=${thread}">`,
  );
  expect(page).toContain(`<a class="whole" href="/picture/${id}.svg?thread=${thread}">`);
  const shown = async (name: string) => (await run.get(`/picture/${name}?thread=${thread}`)).text();
  expect(await shown(`${id}.svg`)).toBe('<svg>light</svg>');
  expect(await shown(`${id}.dark.svg`)).toBe('<svg>dark</svg>');
});
