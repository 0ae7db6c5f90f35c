// What went wrong with the disk or a stored file, in the shape of every message to a person.

export type TroubleKind =
  | 'disk-full'
  | 'read-only'
  | 'folder-gone'
  | 'disk'
  | 'damaged'
  | 'missing'
  | 'newer-format'
  | 'locked'
  | 'not-fitting'
  | 'clock-back'
  | 'closed';

/** Thrown by the store, and handed to `onTrouble`: what, where, and what to do about it. */
export class StoreTrouble extends Error {
  readonly kind: TroubleKind;
  readonly what: string;
  readonly where: string;
  readonly todo: string;

  constructor(kind: TroubleKind, what: string, where: string, todo: string, cause?: unknown) {
    super(`${what} ${where}. ${todo}`, cause === undefined ? undefined : { cause });
    this.name = 'StoreTrouble';
    this.kind = kind;
    this.what = what;
    this.where = where;
    this.todo = todo;
  }
}

type Known = { readonly kind: TroubleKind; readonly why: string; readonly todo: string };

const FULL: Known = {
  kind: 'disk-full',
  why: 'the disk is full',
  todo: 'Free some space on it. Nothing acknowledged is lost; the next message is kept as soon as there is room.',
};
const READ_ONLY: Known = {
  kind: 'read-only',
  why: 'the data folder may not be written',
  todo: 'Give the account that runs this program the right to write there, or mount the disk for writing.',
};
const GONE: Known = {
  kind: 'folder-gone',
  why: 'the data folder or a part of it is gone',
  todo: 'Put the folder back or mount its disk again; it is not made anew, so that nothing is written beside the real one.',
};
const OPEN_FILES: Known = {
  kind: 'disk',
  why: 'too many files are open',
  todo: 'Raise the limit of open files for this program (ulimit -n).',
};

const KNOWN: Readonly<Record<string, Known>> = {
  ENOSPC: FULL,
  EDQUOT: FULL,
  EROFS: READ_ONLY,
  EACCES: READ_ONLY,
  EPERM: READ_ONLY,
  ENOENT: GONE,
  ENOTDIR: GONE,
  ESTALE: GONE,
  EMFILE: OPEN_FILES,
  ENFILE: OPEN_FILES,
};

/** The error code of the operating system, where the error has one. */
export function codeOf(error: unknown): string | undefined {
  if (typeof error !== 'object' || error === null || !('code' in error)) return undefined;
  return typeof error.code === 'string' ? error.code : undefined;
}

/** Turns an error of the disk into a trouble that names the file; a trouble is handed through. */
export function diskTrouble(error: unknown, doing: string, path: string): StoreTrouble {
  if (error instanceof StoreTrouble) return error;
  const code = codeOf(error);
  const known = code === undefined ? undefined : KNOWN[code];
  if (known !== undefined) {
    return new StoreTrouble(known.kind, `${doing} failed: ${known.why}:`, path, known.todo, error);
  }
  const said = error instanceof Error ? error.message : String(error);
  return new StoreTrouble(
    'disk',
    `${doing} failed (${said}):`,
    path,
    'Check the disk and the system log; keep a copy of the data folder before anything else.',
    error,
  );
}
