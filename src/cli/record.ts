// `chargehand record JOB`: the record of a job, read beside a running workshop without its lock and without writing.
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Settings } from '../../shared/settings.ts';
import { documentPdf, type Paper } from '../chat/document-pdf.ts';
import { readSettings } from '../desk/settings-file.ts';
import { checkJob } from '../desk/turn/check-job.ts';
import { surroundings } from '../floor/around.ts';
import { planTextOf } from '../floor/job-shelf.ts';
import { localIso } from '../floor/local-iso.ts';
import { loadPlan } from '../job/load-plan.ts';
import { DATA, toolsIn } from '../main.ts';
import { clockMinutes } from '../report/claim/labour.ts';
import { claimDocument } from '../report/claim-document.ts';
import { type ClaimOptions, claimFolder } from '../report/claim-folder.ts';
import type { PrintDocument } from '../report/document.ts';
import { documentText } from '../report/document-text.ts';
import { jobRecord } from '../report/job-record.ts';
import { ocel } from '../report/ocel.ts';
import { recordCsv } from '../report/record-csv.ts';
import { recordDocument } from '../report/record-document.ts';
import { verifyChain } from '../store/chain.ts';
import { readStoredJob } from '../store/read-only.ts';
import { databaseFrom } from './choose-store.ts';
import { complain } from './complain.ts';
import { readEnvHere } from './env-file.ts';
import { dataFolder } from './job-folder.ts';
import { onStoppedStore } from './stopped-store.ts';

const FORMATS = ['json', 'csv', 'pdf', 'ocel', 'claim'] as const;
type Format = (typeof FORMATS)[number];
const USAGE =
  'npx chargehand record JOB --format json|csv|pdf|ocel|claim [--out FILE] [--paper a4|letter] [--hours] [--data FOLDER]';

const isFormat = (text: string): text is Format => FORMATS.some((format) => format === text);

/** Settings of the folder, or the shipped ones; nothing is written. */
const settingsOf = async (folder: string): Promise<Settings | readonly string[]> => {
  const own = join(folder, 'settings.yaml');
  const shipped = join(DATA, 'demo', 'settings.yaml');
  const text = await readFile(own, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'ENOENT') throw error;
    return readFile(shipped, 'utf8');
  });
  const read = readSettings(text, own);
  return read.ok ? read.settings : read.complaints;
};

const json = (value: unknown): string => `${JSON.stringify(value, null, 1)}\n`;

export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string', default: 'json' },
      out: { type: 'string' },
      paper: { type: 'string', default: 'a4' },
      hours: { type: 'boolean', default: false },
      data: { type: 'string' },
    },
  });
  const [job] = positionals;
  if (job === undefined || positionals.length > 1) return complain('Give one job.', USAGE);
  const { format, out } = values;
  if (!isFormat(format))
    return complain(
      `"${format.slice(0, 40)}" is no format of a record.`,
      `Use one of: ${FORMATS.join(', ')}.`,
    );
  const paper = { a4: 'A4', letter: 'LETTER' }[values.paper.toLowerCase()] as Paper | undefined;
  if (!paper)
    return complain(`"${values.paper.slice(0, 40)}" is no paper size here.`, 'Use a4 or letter.');
  if (format === 'pdf' && out === undefined && process.stdout.isTTY)
    return complain('A PDF is not for the screen.', `Name a file: --out job-${job}.pdf`);

  readEnvHere();
  const found = await storedJob(dataFolder(values.data), job, values.hours);
  if (typeof found === 'number') return found;
  const made = await written(found, format, paper, out);
  if (out === undefined)
    await new Promise<void>((done) => process.stdout.write(made, () => done()));
  else
    try {
      await writeFile(out, made);
    } catch (error) {
      return complain(
        `The record could not be written to ${out}: ${(error as Error).message}`,
        'Check the folder and the right to write there.',
        1,
      );
    }
  return 0;
};

type Found = {
  readonly view: ReturnType<typeof checkJob>;
  readonly events: Parameters<typeof checkJob>[1];
  readonly options: ClaimOptions;
};

/** The job as stored now, its chain followed first; or the exit code after the complaint was printed. */
const storedJob = async (folder: string, job: string, hours: boolean): Promise<Found | number> => {
  const stored =
    databaseFrom(process.env) === undefined
      ? await readStoredJob(join(folder, 'jobs'), job)
      : await onStoppedStore(folder, (store) => store.load(job));
  if (!stored || stored.events.length === 0)
    return complain(
      `There is no job ${job.slice(0, 40)} in ${folder}.`,
      'Check the number and --data; "npx chargehand verify" lists the jobs of a folder that no workshop holds.',
      1,
    );
  const chain = verifyChain(stored.events);
  if (!chain.good)
    return complain(
      `Job ${job}: the chain of hashes is broken at event ${chain.at}: ${chain.why}. No record is made from it.`,
      'Somebody or something changed the stored file. Put the job back from a backup, and keep this file.',
      1,
    );
  const settings = await settingsOf(folder);
  if (!('zone' in settings))
    return complain(settings.join('\n'), 'Mend the settings and ask again.', 1);
  const events = stored.events.map(({ event }) => event);
  const text = planTextOf(events);
  const { plan } = text ? loadPlan(text.text, text.id) : { plan: undefined };
  if (!plan)
    return complain(
      `The plan kept with job ${job} cannot be read by this version.`,
      'Use the version of the program the job was opened with.',
      1,
    );
  const around = surroundings(settings, await toolsIn(folder));
  const now = localIso(new Date().toISOString(), settings.zone);
  return {
    view: checkJob(plan, events, now, around),
    events,
    options: {
      chainEnd: chain.end,
      zone: settings.zone,
      now,
      hours,
      minutesBetween: around.workingMinutes ?? clockMinutes,
    },
  };
};

const written = async (
  { view, events, options }: Found,
  format: Format,
  paper: Paper,
  out: string | undefined,
): Promise<string | Uint8Array> => {
  const print = (document: PrintDocument): Promise<Uint8Array> => documentPdf(document, paper);
  switch (format) {
    case 'json':
      return json(jobRecord(view, events, options));
    case 'csv':
      return recordCsv(jobRecord(view, events, options));
    case 'pdf':
      return print(recordDocument(jobRecord(view, events, options)));
    case 'ocel':
      return json(ocel(view, events));
    case 'claim': {
      const claim = claimFolder(view, events, options);
      if (out?.endsWith('.json')) return json(claim);
      const document = claimDocument(claim);
      return out?.endsWith('.pdf') ? print(document) : documentText(document);
    }
  }
};
