// The commands of the chargehand by name. How they are said in plain words stands in each language's pack.

export type CommandRow = { readonly name: string; readonly means: string };

/** In this order: of two phrases of the same length the earlier command has them. */
export const COMMANDS: readonly CommandRow[] = [
  { name: 'next', means: 'what may be done now' },
  { name: 'where', means: 'where the job stands' },
  { name: 'open-jobs', means: 'the open jobs' },
  { name: 'late', means: 'jobs past or near their promise' },
  { name: 'waiting', means: 'what waits, and for what' },
  { name: 'hours', means: 'hours booked against hours planned' },
  { name: 'hours-ahead', means: 'the hours ahead of all open jobs, as a picture' },
  { name: 'timeline', means: 'the job as a picture: planned against done' },
  { name: 'claim', means: 'what the claim folder lacks, and the folder' },
  { name: 'last-week', means: 'the digest of last week' },
  { name: 'forecast', means: 'when it will be ready' },
  { name: 'handover', means: 'the shift note' },
  { name: 'open-job', means: 'open a new job' },
  { name: 'close-job', means: 'close the job' },
  { name: 'cancel-job', means: 'cancel the job' },
  { name: 'road-release', means: 'release the vehicle to the road' },
  { name: 'release', means: 'release a hold point' },
  { name: 'refuse', means: 'refuse the release of a hold point' },
  { name: 'override', means: 'settle a flag with a reason' },
  { name: 'acknowledge', means: 'the flag is seen' },
  { name: 'approve', means: 'the extra work is approved' },
  { name: 'decline', means: 'the extra work is declined' },
  { name: 'what-did-you-read', means: 'what a message was read as' },
  { name: 'record', means: 'the job record' },
  { name: 'history', means: 'earlier jobs on the vehicle' },
  { name: 'help', means: 'what can be said' },
  { name: 'assign', means: 'give the job to somebody' },
  { name: 'move-message', means: 'move a message to the right job' },
];
