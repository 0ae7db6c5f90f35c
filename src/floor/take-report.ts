// Pictures and papers asked for outside a job's thread: of a job by its number, open or closed, or of the workshop.
import type { Delivery } from '../../shared/delivery.ts';
import { pictureCard } from '../desk/answers/pictures.ts';
import { NO_PLAN } from '../desk/route.ts';
import { REPORT_COMMANDS, type ReportCommand } from '../desk/turn/show-report.ts';
import { readMessage } from '../language/read.ts';
import type { Floor } from './floor.ts';

const isReport = (command: string | undefined): command is ReportCommand =>
  REPORT_COMMANDS.some((known) => known === command);

/** The command and the job it names, where a whole message is such a request: "record 1042", "timeline for 1042". */
export const reportAsked = (
  text: string,
  at: string,
  { workshop, jobNumbers }: Pick<Floor, 'workshop' | 'jobNumbers'>,
): { readonly command: ReportCommand; readonly job: string | undefined } | undefined => {
  if (text.length > 120) return undefined;
  const act = readMessage(text, workshop.lexiconOf(NO_PLAN), { at }).acts.find(({ command }) =>
    isReport(command),
  );
  if (!act || !isReport(act.command)) return undefined;
  const words = text.split(/[^\p{L}\p{N}-]+/u).map((word) => word.toLowerCase());
  const job = jobNumbers().find((number) => words.includes(number.toLowerCase()));
  return { command: act.command, job };
};

/** "Hours ahead", and "forecast" from somebody who is on no job: all open jobs in one picture. */
export const takeHoursAhead = async (floor: Floor, delivery: Delivery): Promise<void> => {
  const moment = await floor.momentFor(undefined, undefined, { openJobs: true });
  const { openJobs = [], paces = new Map(), reports, now } = moment;
  const ground = { settings: floor.workshop.settings, now, past: paces };
  const says = 'Pictures are not made here.';
  await floor.reply(
    delivery,
    reports
      ? pictureCard(reports.hoursAhead(openJobs, ground))
      : { text: says, blocks: [{ kind: 'text', text: says }] },
  );
  await floor.store.settle(delivery.id);
};
