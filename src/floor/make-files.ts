// Files that the desk wants sent: made of the job's stored events, kept by the job, and put on the card in their place.
import { createHash } from 'node:crypto';
import type { Settings } from '../../shared/settings.ts';
import type { Card, CardFile, Post, WantedFile } from '../desk/card.ts';
import { checkJob } from '../desk/turn/check-job.ts';
import type { Around, JobView } from '../job/view.ts';
import { clockMinutes } from '../report/claim/labour.ts';
import { claimDocument } from '../report/claim-document.ts';
import { type ClaimOptions, claimFolder } from '../report/claim-folder.ts';
import type { PrintDocument } from '../report/document.ts';
import { jobRecord } from '../report/job-record.ts';
import { ocel } from '../report/ocel.ts';
import { recordCsv } from '../report/record-csv.ts';
import { recordDocument } from '../report/record-document.ts';
import type { JobStore } from '../store/job-store.ts';

/** Prints a document as PDF; handed in, since printing belongs to a shell of its own. */
export type Print = (document: PrintDocument) => Promise<Uint8Array>;

type Parts = {
  readonly store: Pick<JobStore, 'load' | 'keepFile'>;
  readonly print: Print | undefined;
  readonly settings: () => Settings;
  readonly now: () => string;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
};

type Made = Pick<CardFile, 'name' | 'type' | 'says'> & { readonly content: Uint8Array };

const CSV = 'text/csv';
const JSON_TYPE = 'application/json';
const PDF = 'application/pdf';

const json = (value: unknown): Uint8Array => Buffer.from(`${JSON.stringify(value, null, 1)}\n`);

/** Everybody in the thread sees the file, so hours stand in it only where every role of the workshop may see them. */
const hoursForAll = ({ hours }: Settings): boolean =>
  hours?.['shown-to'].includes('technician') ?? false;

const pages = (bytes: Uint8Array): string => {
  const found = /\/Type \/Pages\s[^>]*\/Count (\d+)|\/Count (\d+)/u.exec(
    Buffer.from(bytes).toString('latin1'),
  );
  const count = Number(found?.[1] ?? found?.[2] ?? 0);
  return count > 0 ? `, ${count} ${count === 1 ? 'page' : 'pages'}` : '';
};

/** A turn's posts with the files their cards want, from the events as they are stored before the turn. */
export const makeFiles = ({ store, print, settings, now, log }: Parts) => {
  const made = async (
    job: string,
    wanted: WantedFile,
    view: JobView,
    events: Parameters<typeof jobRecord>[1],
    options: ClaimOptions,
  ): Promise<Made | undefined> => {
    const named = (ending: string): string => `job-${job}-${ending}`;
    switch (wanted) {
      case 'record-json':
        return {
          name: named('record.json'),
          type: JSON_TYPE,
          says: 'The record for other programs',
          content: json(jobRecord(view, events, options)),
        };
      case 'record-ocel':
        return {
          name: named('events.ocel.json'),
          type: JSON_TYPE,
          says: 'The events as OCEL 2.0',
          content: json(ocel(view, events)),
        };
      case 'record-csv':
        return {
          name: named('record.csv'),
          type: CSV,
          says: 'The record for a spreadsheet',
          content: Buffer.from(recordCsv(jobRecord(view, events, options))),
        };
      case 'record-pdf':
      case 'claim-pdf': {
        if (!print) return undefined;
        const claim = wanted === 'claim-pdf';
        const content = await print(
          claim
            ? claimDocument(claimFolder(view, events, options))
            : recordDocument(jobRecord(view, events, options)),
        );
        return {
          name: named(claim ? 'claim.pdf' : 'record.pdf'),
          type: PDF,
          says: `The ${claim ? 'claim folder' : 'record'} to print${pages(content)}`,
          content,
        };
      }
    }
  };

  const kept = async (job: string, file: Made): Promise<CardFile> => {
    const { content, ...about } = file;
    const sha256 = createHash('sha256').update(content).digest('hex');
    const name = await store.keepFile(job, sha256, file.type, content);
    return { job, kept: name, bytes: content.byteLength, ...about };
  };

  const filled = async (card: Card, view: JobView, around: Around): Promise<Card> => {
    const { wants = [], ...rest } = card;
    const stored = await store.load(view.job);
    if (!stored) return rest;
    const events = stored.events.map(({ event }) => event);
    const at = now();
    const options: ClaimOptions = {
      chainEnd: stored.events.at(-1)?.hash ?? null,
      zone: settings().zone,
      now: at,
      hours: hoursForAll(settings()),
      minutesBetween: around.workingMinutes ?? clockMinutes,
    };
    const asStored = checkJob(view.plan, events, at, around);
    const files: CardFile[] = [];
    for (const wanted of wants) {
      try {
        const file = await made(view.job, wanted, asStored, events, options);
        if (file) files.push(await kept(view.job, file));
      } catch (error) {
        log('error', 'a file of a job could not be made', {
          job: view.job,
          wanted,
          why: (error as Error).message,
        });
      }
    }
    const lines = files.map(({ name, says }) => `${says}: ${name}`);
    const sent = {
      ...rest,
      text: [rest.text, ...lines].join('\n'),
      ...(files.length > 0 ? { files: [...(rest.files ?? []), ...files] } : {}),
    };
    return files.length < wants.length ? missing(sent, view.job) : sent;
  };

  return async (posts: readonly Post[], view: JobView, around: Around): Promise<readonly Post[]> =>
    Promise.all(
      posts.map(async (post) =>
        post.card?.wants?.length ? { ...post, card: await filled(post.card, view, around) } : post,
      ),
    );
};

/** Not everything could be made: how to have it made by hand. */
const missing = (card: Card, job: string): Card => {
  const says = `Not every file could be made. On the workshop's machine: npx chargehand record ${job} --format pdf --out job-${job}.pdf`;
  return {
    ...card,
    text: `${card.text}\n${says}`,
    blocks: [...card.blocks, { kind: 'text', text: says }],
  };
};
