// Troubles that a person can mend, as two lines: what, and what to do. Everything else is a fault and keeps its trace.

type Shape = {
  readonly code?: string;
  readonly message?: string;
  readonly what?: string;
  readonly where?: string;
  readonly doThis?: string;
  readonly todo?: string;
  readonly port?: number;
  readonly path?: string;
};

/** What the disk or its owner refuses, by the code of the system. */
const ON_DISK: Readonly<Record<string, readonly [what: string, doThis: string]>> = {
  EACCES: [
    'may not be used by this account.',
    'Let this account read and write it, or name another folder with --data.',
  ],
  EPERM: [
    'may not be used by this account.',
    'Let this account read and write it, or name another folder with --data.',
  ],
  EROFS: [
    'is on a disk that can only be read.',
    'Name a folder that can be written with --data, or let the disk be written.',
  ],
  ENOSPC: ['cannot be written: the disk is full.', 'Make room on the disk and start again.'],
  EDQUOT: [
    'cannot be written: this account has used up its share of the disk.',
    'Make room and start again.',
  ],
  ENOTDIR: [
    'lies under a file where a folder is expected.',
    'Name a folder with --data, or move the file away.',
  ],
  EEXIST: [
    'is a file where a folder is expected.',
    'Name a folder with --data, or move the file away.',
  ],
  EISDIR: ['is a folder where a file is expected.', 'Move that folder away and start again.'],
  ENOENT: ['is not there and cannot be made.', 'Make its folder, or name another with --data.'],
  ELOOP: [
    'is a link that leads back to itself.',
    'Remove the link, or name another folder with --data.',
  ],
  EMFILE: ['cannot be opened: too many files are open.', 'Close other programs and start again.'],
  EIO: ['cannot be read or written: the disk reports a fault.', 'Check the disk before going on.'],
};

/** What a file or folder refuses, in our words: for sentences that name the file themselves. */
export const diskTrouble = (
  error: unknown,
): { readonly what: string; readonly doThis: string } | undefined => {
  const [what, doThis] = ON_DISK[(error as Shape).code ?? ''] ?? [];
  return what && doThis ? { what, doThis } : undefined;
};

/** @returns undefined for a fault of the program itself */
export const knownTrouble = (
  error: unknown,
): { readonly what: string; readonly doThis: string } | undefined => {
  const known = error as Shape;
  const doThis = known.doThis ?? known.todo;
  if (known.what && doThis)
    return { what: `${known.what}${known.where ? ` ${known.where}` : ''}`, doThis };
  if (known.code === 'EADDRINUSE')
    return {
      what: `Port ${known.port ?? ''} is in use by another program.`,
      doThis: 'Stop that program, or start with --port and another number.',
    };
  if (known.code === 'EACCES' && known.port !== undefined)
    return {
      what: `Port ${known.port} may not be used by this account.`,
      doThis: 'Start with --port and a number above 1023.',
    };
  const onDisk = diskTrouble(error);
  if (onDisk && known.path) return { what: `${known.path} ${onDisk.what}`, doThis: onDisk.doThis };
  const lines = known.message?.split('\n') ?? [];
  const [what, todo] = lines;
  if (lines.length === 2 && what && todo) return { what, doThis: todo };
  return undefined;
};
