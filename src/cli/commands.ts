// Every command by its words, one file each. Exit 0 good, 1 complaints or flags not cleared, 2 wrong use.
import { complain } from './complain.ts';
import { knownTrouble } from './known-trouble.ts';

type Command = {
  readonly says: string;
  readonly run: () => Promise<(args: readonly string[]) => Promise<number>>;
};

export const COMMANDS: Readonly<Record<string, Command>> = {
  start: {
    says: 'start [--port N] [--health-port N] [--data FOLDER] [--terminal] [--network --cert FILE --key FILE]   the bench channel on this machine, and Slack where tokens are set',
    run: async () => (await import('./start.ts')).run,
  },
  demo: {
    says: 'demo                                            a demonstration shift: the conversation, the flags, the summary',
    run: async () => (await import('./demo.ts')).run,
  },
  'plan check': {
    says: 'plan check FILE [--json]                        every complaint about a plan, and the plan read back',
    run: async () => (await import('./plan-check.ts')).run,
  },
  read: {
    says: 'read --plan FILE [--positions LIST] [--explain] JSON lines of messages in, their acts out',
    run: async () => (await import('./read.ts')).run,
  },
  replay: {
    says: 'replay --plan FILE TRANSCRIPT [--json] [--live] a transcript said again: events, steps, flags, questions',
    run: async () => (await import('./replay.ts')).run,
  },
  record: {
    says: 'record JOB --format json|csv|pdf|ocel|claim [--out FILE]   the record of a job, its claim folder, its event log',
    run: async () => (await import('./record.ts')).run,
  },
  gallery: {
    says: 'gallery [--out FILE]                            every kind of card on every channel side by side, as a page',
    run: async () => (await import('./gallery.ts')).run,
  },
  doctor: {
    says: 'doctor [--data FOLDER]                          what is missing: tokens, scopes, channel, clock, folder, plans',
    run: async () => (await import('./doctor.ts')).run,
  },
  backup: {
    says: 'backup FOLDER|FILE.tar.gz [--data FOLDER]       a copy of the data folder, also while the workshop is running',
    run: async () => (await import('./backup.ts')).run,
  },
  restore: {
    says: 'restore FOLDER|FILE.tar.gz --data A-NEW-FOLDER  a data folder from a backup, whole or not at all',
    run: async () => (await import('./restore.ts')).run,
  },
  retain: {
    says: 'retain --days N [--data FOLDER]                 words of messages go once their job is over for N days; facts stay',
    run: async () => (await import('./retain.ts')).run,
  },
  forget: {
    says: 'forget PERSON [--data FOLDER]                   one person is taken out of everything that is stored',
    run: async () => (await import('./forget.ts')).run,
  },
  code: {
    says: "code PERSON [--remove] [--data FOLDER]          a person's own code for shared tablets, typed unseen, kept salted",
    run: async () => (await import('./code.ts')).run,
  },
  move: {
    says: 'move --to postgres|folder [--into FOLDER] [--data FOLDER]   carries the jobs into a database that many processes share, or back',
    run: async () => (await import('./move.ts')).run,
  },
  verify: {
    says: 'verify [JOB] [--data FOLDER]                    that nobody edited the record afterwards',
    run: async () => (await import('./verify.ts')).run,
  },
};

const usage = (): string =>
  [
    "Chargehand keeps the record of a workshop's jobs and speaks up when a step is skipped.",
    '',
    'npx chargehand …',
    ...Object.values(COMMANDS).map((command) => `  ${command.says}`),
    '',
  ].join('\n');

/** @returns the exit code */
export const main = async (args: readonly string[]): Promise<number> => {
  if (args.length === 0 || args[0] === 'help' || args[0] === '--help' || args[0] === '-h') {
    process.stdout.write(usage());
    return args.length === 0 ? 2 : 0;
  }
  for (const words of [2, 1]) {
    const name = args.slice(0, words).join(' ');
    const command = COMMANDS[name];
    if (command && args.length >= words) return guarded(await command.run(), args.slice(words));
  }
  return complain(
    `"${args.slice(0, 2).join(' ').slice(0, 60)}" is no command of chargehand.`,
    `Use one of: ${Object.keys(COMMANDS).join(', ')}. "chargehand help" explains them.`,
  );
};

const guarded = async (
  run: (args: readonly string[]) => Promise<number>,
  args: readonly string[],
): Promise<number> => {
  try {
    return await run(args);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code?.startsWith('ERR_PARSE_ARGS'))
      return complain(
        (message ?? '').split('. ')[0] ?? '',
        '"chargehand help" shows how it is used.',
      );
    if (code === 'EPIPE') return 0;
    const known = knownTrouble(error);
    if (known) return complain(known.what, known.doThis, 1);
    throw error;
  }
};
