// Troubles that a person can mend, as two lines: what, and what to do. Everything else is a fault and keeps its trace.

type Shape = {
  readonly code?: string;
  readonly message?: string;
  readonly what?: string;
  readonly where?: string;
  readonly doThis?: string;
  readonly todo?: string;
  readonly port?: number;
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
  const lines = known.message?.split('\n') ?? [];
  const [what, todo] = lines;
  if (lines.length === 2 && what && todo) return { what, doThis: todo };
  return undefined;
};
