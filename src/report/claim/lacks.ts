// What the folder still lacks: each with whom to ask and for what, so that it is asked before the vehicle leaves.
import type { JobRecord } from '../../../shared/record.ts';
import { list } from '../../desk/say.ts';
import { gather, gatheredPlace } from '../print/gather.ts';

/** What the folder has beside the record itself. */
export type Told = {
  readonly oldPartNumbers: readonly unknown[];
  readonly oldPartsKept: readonly unknown[];
  /** Readings of the trouble codes the plan asks for. */
  readonly wants: ReadonlySet<'before' | 'cleared' | 'none-active'>;
};

export type Lacks = {
  readonly lacks: readonly string[];
  /** Those that closing the job does not ask for by itself. */
  readonly onlyForClaim: readonly string[];
};

export const claimLacks = (record: JobRecord, told: Told): Lacks => {
  const onlyForClaim = [
    ...aboutTheCause(record, told),
    ...aboutTheOldParts(told),
    ...aboutTheVehicle(record),
  ];
  return {
    onlyForClaim,
    lacks: [...onlyForClaim, ...aboutTheNewParts(record), ...aboutTheProof(record)],
  };
};

const aboutTheVehicle = ({ job, minutes }: JobRecord): readonly string[] => [
  ...(job.complaint === null ? ['The complaint: ask whoever brought the vehicle in.'] : []),
  ...(job.readings.length === 0 ? ['Odometer or engine hours: read them and post them.'] : []),
  ...(job.vehicle.vin === null ? ['The VIN: read it from the plate.'] : []),
  ...(minutes && minutes.booked === 0 ? ['Booked hours: no one has clocked on to this job.'] : []),
];

const aboutTheCause = (record: JobRecord, { wants }: Told): readonly string[] => {
  const { findings, photos, troubleCodes } = record;
  return [
    ...(findings.length === 0
      ? [
          'What proved the cause: ask the technician what was found on the failed part, with a photo.',
        ]
      : []),
    ...findings
      .filter(({ state }) => state === 'open')
      .map(({ says }) => `A decision on the finding "${says}": ask the controller.`),
    ...(findings.length > 0 &&
    !photos.some(({ message }) => findings.some((finding) => finding.message === message))
      ? ['A photo with the finding: ask the technician before the old part is gone.']
      : []),
    ...(troubleCodes.before.length === 0 && wants.has('before')
      ? ['The trouble codes before the work: post them, or say that they were not read.']
      : []),
    ...(troubleCodes.after.length === 0 && wants.has('none-active')
      ? ['The trouble codes after the work: read them after the last run and post them.']
      : []),
  ];
};

const aboutTheOldParts = (told: Told): readonly string[] => [
  ...(told.oldPartNumbers.length === 0
    ? ['Number or code of the failed part: read it from the old part and post it.']
    : []),
  ...(told.oldPartsKept.length === 0
    ? ["The old part's tag and where it is kept: tag it and post the place."]
    : []),
];

const aboutTheNewParts = (record: JobRecord): readonly string[] => {
  const notNew = gather(
    record.parts.filter(({ saidNew }) => saidNew === null),
    ({ step, part }) => `${step}|${part}`,
  );
  const noCode = record.codes.filter(({ read }) => read === null);
  const notEntered = record.codes.filter(({ entered }) => entered === null);
  const differ = record.codes.filter(({ agree }) => agree === false);
  const at = (rows: JobRecord['codes']): string =>
    list(
      rows.map(
        ({ of, position }) =>
          `${of.replaceAll('-', ' ')}${position === null ? '' : ` of ${position}`}`,
      ),
      6,
    );
  return [
    ...(noCode.length > 0 ? [`Codes read on the new parts: ${at(noCode)}.`] : []),
    ...(notEntered.length > 0 ? [`Codes entered in the control unit: ${at(notEntered)}.`] : []),
    ...(differ.length > 0
      ? [`Codes that differ between label and control unit: ${at(differ)}.`]
      : []),
    ...notNew.map(
      (group) => `Word that the part is new: ${group.one.part}, at "${gatheredPlace(group)}".`,
    ),
  ];
};

const aboutTheProof = (record: JobRecord): readonly string[] => {
  const tests = gather(
    record.steps.filter(
      ({ phase, state }) =>
        (phase === 'prove' || phase === 'hand back') && state !== 'done' && state !== 'not-on-job',
    ),
    ({ step }) => step,
  );
  const stops = record.flags.filter(({ state, level }) => state === 'open' && level === 'stop');
  const out = record.figures.filter(({ within }) => within === false);
  return [
    ...(tests.length > 0
      ? [`Tests after repair: ${list(tests.map((group) => `"${gatheredPlace(group)}"`))}.`]
      : []),
    ...(record.troubleCodes.still.length > 0
      ? [
          `A reading without ${list(record.troubleCodes.still)}, which is still there after the work.`,
        ]
      : []),
    ...(out.length > 0
      ? [`Figures within limits at ${list([...new Set(out.map(({ title }) => `"${title}"`))], 4)}.`]
      : []),
    ...(stops.length > 0 ? [`A settlement of the open stop flags: ${stops.length}.`] : []),
    ...(record.signOff.closed === null ? ['The job is not closed.'] : []),
  ];
};
