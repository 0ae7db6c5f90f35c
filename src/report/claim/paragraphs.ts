// Complaint, cause, correction: three short paragraphs, each sentence resting on something in the record.
import type { JobRecord } from '../../../shared/record.ts';
import { list, positionsTogether } from '../../desk/say.ts';
import { parseTroubleCode } from '../../trade/trouble-code.ts';
import { FAILURE_MODES, PARAMETERS } from '../../trade/trouble-code-words.ts';
import { formatFigure } from '../../trade/units.ts';
import { gather } from '../print/gather.ts';
import { dayAndTime, figureWords, limitWords, placeWords, shortTime } from '../words.ts';

/** "SPN 653 FMI 5 (injector, cylinder 3: current low or open circuit)". */
export const codeWords = (text: string): string => {
  const parsed = parseTroubleCode(text);
  if (!parsed.ok || parsed.value.family !== 'J1939') return text;
  const parameter = PARAMETERS.get(parsed.value.spn);
  const mode = FAILURE_MODES.get(parsed.value.fmi);
  const means = [parameter, mode].filter((word) => word !== undefined);
  return means.length === 0 ? text : `${text} (${means.join(': ')})`;
};

const sentences = (parts: readonly (string | undefined)[]): string =>
  parts.filter((part) => part !== undefined && part !== '').join(' ');

const stopped = (text: string): string =>
  /[.?]$/u.test(text.trim()) ? text.trim() : `${text.trim()}.`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export const complaintParagraph = ({ job, troubleCodes, zone }: JobRecord): string => {
  const [reading] = job.readings;
  const at = reading ? ` at ${formatFigure(reading.value, 9)} ${reading.unit}` : '';
  const before = troubleCodes.before.flatMap(({ codes }) => codes);
  return sentences([
    `${capital(job.vehicle.name)} came in on ${dayAndTime(job.openedAt, zone)}${at}.`,
    job.complaint === null ? 'No complaint is on record.' : `Complaint: ${stopped(job.complaint)}`,
    troubleCodes.before.length === 0
      ? 'The trouble codes before the work are not on record.'
      : before.length === 0
        ? 'No trouble code was there before the work.'
        : `Trouble codes before the work: ${list([...new Set(before)].map(codeWords))}.`,
  ]);
};

/** @param oldParts what was posted of the failed part's own number or code */
export const causeParagraph = (
  record: JobRecord,
  oldParts: readonly { readonly says: string; readonly by: string; readonly at: string }[],
): string => {
  const findings = record.findings
    .filter(({ state }) => state !== 'declined')
    .map(({ says, by, at, state, message }) => {
      const photos = record.photos.filter((photo) => photo.message === message);
      const shown =
        photos.length > 0 ? `, with ${list(photos.map(({ name }) => `photo ${name}`))}` : '';
      return `"${says}" (found by ${by}, ${shortTime(at, record.zone)}${state === 'approved' ? ', work on it approved' : ''}${shown})`;
    });
  const out = record.figures.filter(({ within, assumed }) => within === false && !assumed);
  return sentences([
    findings.length > 0 ? `Found: ${list(findings)}.` : 'No finding on record names the cause.',
    out.length > 0
      ? `Measured out of limits: ${list(
          out.map(
            (one) =>
              `${placeWords(one)}: ${one.of} ${figureWords(one.measured)}, limit ${limitWords(one.limit)}`,
          ),
          4,
        )}.`
      : undefined,
    oldParts.length > 0
      ? `Of the failed part it was posted: ${list(
          oldParts.map(({ says, by, at }) => `"${says}" (${by}, ${shortTime(at, record.zone)})`),
          3,
        )}.`
      : undefined,
  ]);
};

export const correctionParagraph = (record: JobRecord): string => {
  const counted = record.steps.filter(({ state }) => state !== 'not-on-job');
  const done = counted.filter(({ state }) => state === 'done');
  const by = [...new Set(done.flatMap((step) => (step.by === null ? [] : [step.by])))];
  const state =
    record.job.status === 'open'
      ? `work goes on, ${done.length} of ${counted.length} steps are on record as done`
      : `${done.length} of ${counted.length} steps are on record as done`;
  return sentences([
    `${record.plan.title}: ${state}${by.length > 0 ? ` by ${list(by)}` : ''}.`,
    renewedSentence(record),
    codesSentence(record),
    figuresSentence(record),
    afterSentence(record),
  ]);
};

const renewedSentence = ({ parts }: JobRecord): string | undefined => {
  const said = gather(
    parts.filter(({ saidNew }) => saidNew !== null),
    ({ part }) => part,
  );
  if (said.length === 0) return undefined;
  return `Renewed: ${list(
    said.map(({ one, all, at }) => {
      const count = all.reduce((sum, part) => sum + (part.count ?? 1), 0);
      return `${count} × ${one.part}${at === '' ? '' : ` (${at})`}`;
    }),
  )}.`;
};

/** Up to three codes are said, more stand in the table of replacements. */
const codesSentence = ({ codes }: JobRecord): string | undefined => {
  const agreed = codes.filter(({ agree }) => agree === true);
  if (agreed.length === 0) return undefined;
  const at = agreed.flatMap(({ position }) => (position === null ? [] : [position]));
  const kind = list([...new Set(agreed.map(({ of }) => of.replaceAll('-', ' ')))]);
  const named = agreed.map(({ position, read }) =>
    [position, read?.code].filter((word) => word).join(' '),
  );
  const where = at.length > 0 ? ` at ${positionsTogether(at)}` : '';
  return named.length <= 3
    ? `The ${kind} of the new part was read and entered the same: ${list(named)}.`
    : `The ${kind} of the new part was read and entered the same${where}.`;
};

const figuresSentence = (record: JobRecord): string => {
  const compared = record.figures.filter(({ within, assumed }) => within !== null && !assumed);
  const good = compared.filter(({ within }) => within === true).length;
  return compared.length === 0
    ? 'No figure was reported that the plan limits.'
    : `${good} of ${compared.length} figures reported against a limit are within it.`;
};

const afterSentence = ({ troubleCodes }: JobRecord): string => {
  const { after, gone, still, fresh } = troubleCodes;
  if (after.length === 0) return 'The trouble codes have not been read after the work.';
  const parts = [
    ...(gone.length > 0 ? [`gone: ${list(gone)}`] : []),
    ...(still.length > 0 ? [`still there: ${list(still)}`] : []),
    ...(fresh.length > 0 ? [`new: ${list(fresh)}`] : []),
  ];
  return parts.length === 0
    ? 'No trouble code was read after the work.'
    : `Trouble codes read after the work, ${parts.join('; ')}.`;
};
