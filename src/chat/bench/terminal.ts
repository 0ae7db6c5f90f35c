// The bench on a terminal: messages are typed, actions are tapped by their number. It keeps nothing of its own:
// what is recorded is in the jobs, and a thread is known by the job whose first card it hangs from.
import { randomUUID } from 'node:crypto';
import { createInterface, type Interface } from 'node:readline';
import type { Delivery } from '../../../shared/delivery.ts';
import type { Action, Card, Intent } from '../../desk/card.ts';
import type { Channel, Intake, Place, PostResult } from '../channel.ts';
import type { BenchView } from './bench-view.ts';
import { timeWords } from './draw/time-words.ts';
import { askForm, type Fields, type FormAsking } from './terminal-form.ts';
import { cardLines, harmless, jobLines } from './terminal-words.ts';

export type TerminalOptions = {
  readonly view: BenchView;
  readonly clock: () => string;
  readonly input?: NodeJS.ReadableStream;
  readonly output?: NodeJS.WritableStream & { readonly isTTY?: boolean };
  readonly env?: Readonly<Record<string, string | undefined>>;
  /** The root of a job's thread on the bench, where the store knows it. */
  readonly threadOf?: (job: string) => Promise<string | undefined>;
};

const HELP = [
  'Type what is done, such as: drained 28 L',
  '/who NAME  choose who is posting      /jobs  open jobs         /job 1042  go to a job',
  '/yard      leave the job              /next  next steps        /sheet     the job sheet',
  '/open      open a job                 /1     tap action 1      /amend WORDS, /take-back  your last message',
];

type Tap = { readonly action: Action; readonly thread?: string; readonly message?: string };

/** The terminal's channel. It reads once it is started; a closed input only ends the reading. */
export function terminalBench(options: TerminalOptions): Channel {
  const { view, clock } = options;
  const input = options.input ?? process.stdin;
  const output = options.output ?? process.stdout;
  const env = options.env ?? process.env;
  const isBold = output.isTTY === true && (env.NO_COLOR ?? '') === '' && env.TERM !== 'dumb';

  const cards = new Map<string, { readonly card: Card; readonly key: string; place: Place }>();
  const said = new Map<string, string>();
  const taps = new Map<number, Tap>();
  const threadByJob = new Map<string, string>();
  const jobByThread = new Map<string, string>();
  let lastTap = 0;
  let who: string | undefined;
  let job: string | undefined;
  let lastOwn: { readonly message: string; readonly thread?: string } | undefined;
  let asking:
    | { readonly form: FormAsking; readonly done: (fields: Fields) => Promise<void> }
    | undefined;
  let intake: Intake | undefined;
  let lines: Interface | undefined;
  let work: Promise<void> = Promise.resolve();

  const print = (...text: readonly string[]) => output.write(`${text.join('\n')}\n`);
  const strong = (text: string) => (isBold ? `\u001b[1m${text}\u001b[0m` : text);
  const prompt = () => {
    lines?.setPrompt(`${who ?? 'nobody'}${job === undefined ? '' : `, job ${harmless(job)}`}: `);
    if (output.isTTY === true) lines?.prompt(true);
  };

  const threadOf = async (number: string): Promise<string | undefined> =>
    (await options.threadOf?.(number)) ?? threadByJob.get(number);

  const deliver = async (
    make: (base: {
      id: string;
      keys: string[];
      channel: 'bench';
      team: string;
      place: string;
      thread?: string;
      person: string;
      at: string;
    }) => Delivery,
    thread: string | undefined,
  ): Promise<void> => {
    if (who === undefined) {
      print('Nobody is chosen as the one who posts.', 'Type /who and a name, then type it again.');
      return;
    }
    const delivery = make({
      id: `bench:t-${randomUUID()}`,
      keys: [],
      channel: 'bench',
      team: 'bench',
      place: 'yard',
      ...(thread === undefined ? {} : { thread }),
      person: who,
      at: clock(),
    });
    try {
      await intake?.accept(delivery);
    } catch {
      print('It is not recorded: it did not reach the disk.', 'Type it again in a moment.');
    }
  };

  const say = async (text: string): Promise<void> => {
    const thread = job === undefined ? undefined : await threadOf(job);
    // A job that has no thread on the bench is named in the message instead.
    const words = job !== undefined && thread === undefined ? `Job ${job}: ${text}` : text;
    const message = `m-t-${randomUUID()}`;
    said.set(message, words);
    lastOwn = { message, ...(thread === undefined ? {} : { thread }) };
    await deliver((base) => ({ ...base, kind: 'message', message, text: words }), thread);
  };

  const sendTap = (intent: Intent, tap: Pick<Tap, 'thread' | 'message'>, fields?: Fields) =>
    deliver(
      (base) => ({
        ...base,
        kind: 'tap',
        intent: JSON.stringify(intent),
        ...(fields === undefined ? {} : { fields }),
        ...(tap.message === undefined ? {} : { message: tap.message }),
      }),
      tap.thread,
    );

  const tapAction = async ({ action, ...tap }: Tap): Promise<void> => {
    if (who === undefined) return deliver(() => never(), undefined);
    const form = action.form ?? (await intake?.formFor(action.intent, who, 'bench'));
    if (form === undefined) return sendTap(action.intent, tap);
    const { zone } = await view.workshop();
    const made = askForm(form, zone);
    asking = { form: made, done: (fields) => sendTap(action.intent, tap, fields) };
    print(...made.firstSays);
  };

  const choose = async (name: string): Promise<void> => {
    const { people } = await view.workshop();
    const named = people.find(
      (person, at) => person.name.toLowerCase() === name.toLowerCase() || String(at + 1) === name,
    );
    if (named === undefined) {
      print('Who is posting? Type /who and a number. It is not proved.');
      for (const [at, person] of people.entries()) {
        print(`  ${at + 1} ${harmless(person.name)}, ${person.roles.join(', ')}`);
      }
      return;
    }
    who = named.name;
    print(`Posting as ${harmless(who)}, not proved.`);
  };

  const numbered = (actions: readonly Action[] | undefined, tap: Omit<Tap, 'action'>) =>
    (actions ?? []).map((action) => {
      lastTap = (lastTap % 99) + 1;
      taps.set(lastTap, { action, ...tap });
      return [lastTap, action] as const;
    });

  const goTo = async (number: string): Promise<void> => {
    const found = await view.job(number);
    if (found === undefined) {
      print(`There is no job ${harmless(number)} here.`, 'Type /jobs for the open ones.');
      return;
    }
    job = found.job;
    const thread = await threadOf(job);
    print(...jobLines(found));
    for (const [at, action] of numbered(found.actions, thread === undefined ? {} : { thread })) {
      print(`  /${at} ${harmless(action.label)}`);
    }
  };

  const showNext = async (): Promise<void> => {
    const found = job === undefined ? undefined : await view.job(job);
    if (found === undefined) return void print('Go to a job first: /job and its number.');
    for (const next of found.next) {
      const figure =
        next.figure === undefined ? '' : ` (say the ${next.figure.label}, in ${next.figure.unit})`;
      print(
        harmless(
          `  ${next.title}${next.position === null ? '' : `, ${next.position}`}: "${next.says}"${figure}`,
        ),
      );
      if (next.caution !== undefined) print(harmless(`    Take care. ${next.caution}`));
    }
    if (found.next.length === 0) print('Nothing is next on this plan.');
  };

  const showSheet = async (): Promise<void> => {
    const thread = job === undefined ? undefined : await threadOf(job);
    const sheet = thread === undefined ? undefined : cards.get(thread);
    if (sheet === undefined) print('Go to a job first: /job and its number.');
    else print(...cardLines(sheet.card, []));
  };

  const amend = async (text: string | undefined): Promise<void> => {
    if (lastOwn === undefined) return void print('There is no message of yours to amend yet.');
    const { message, thread } = lastOwn;
    await deliver(
      (base) =>
        text === undefined
          ? { ...base, kind: 'delete', message }
          : { ...base, kind: 'edit', message, text },
      thread,
    );
  };

  const take = async (line: string): Promise<void> => {
    const text = line.trim();
    if (asking !== undefined) {
      if (text === '/leave') {
        asking = undefined;
        return void print('Left.');
      }
      const { says, done } = asking.form.answer(line);
      print(...says);
      if (done !== undefined) {
        const finished = asking;
        asking = undefined;
        await finished.done(done);
      }
      return;
    }
    if (text === '') return;
    if (!text.startsWith('/')) return say(line);
    const [command = '', ...rest] = text.slice(1).split(/\s+/);
    const words = rest.join(' ');
    if (/^\d+$/.test(command)) {
      const tap = taps.get(Number(command));
      return tap === undefined
        ? void print(`There is no action ${command} now.`, 'Type one of the numbers shown.')
        : tapAction(tap);
    }
    switch (command) {
      case 'who':
        return choose(words);
      case 'jobs': {
        const jobs = await view.openJobs();
        for (const open of jobs) print(...jobLines(open));
        if (jobs.length === 0) print('No job is open. Type /open to open one.');
        return;
      }
      case 'job':
        return goTo(words);
      case 'yard':
        job = undefined;
        return;
      case 'next':
        return showNext();
      case 'sheet':
        return showSheet();
      case 'open': {
        const form = await view.openJobForm();
        return tapAction({
          action: { label: 'Open a job', weight: 'main', intent: { do: 'open-job' }, form },
        });
      }
      case 'amend':
        return amend(words);
      case 'take-back':
        return amend(undefined);
      default:
        print(...HELP);
    }
  };

  const show = (place: Place, card: Card, message: string): void => {
    if (place.person !== undefined && place.person !== who) return;
    const about =
      place.thread === undefined ? '' : ` Job ${harmless(jobByThread.get(place.thread) ?? '')}`;
    const thread = place.thread === undefined ? {} : { thread: place.thread };
    const drawn = cardLines(card, numbered(card.actions, { message, ...thread }));
    const now = clock();
    print('', strong(`${timeWords(now, { zone, now })}${about}`), ...drawn);
    prompt();
  };

  let zone = 'UTC';
  return {
    name: 'bench',
    showsRecorded: 'reaction',
    start: async (taking) => {
      intake = taking;
      const workshop = await view.workshop();
      zone = workshop.zone;
      print(strong(harmless(workshop.name)), ...HELP);
      await choose('');
      lines = createInterface({ input, output, terminal: output.isTTY === true });
      lines.on('line', (line) => {
        work = work
          .then(() => take(line))
          .catch((error: unknown) => {
            print(
              `That did not work: ${harmless(error instanceof Error ? error.message : String(error))}`,
              'Type it again.',
            );
          })
          .then(prompt);
      });
      prompt();
    },
    stop: async () => {
      lines?.close();
      await work;
    },
    post: async (place, card, key): Promise<PostResult> => {
      const message = `p-t-${randomUUID()}`;
      cards.set(message, { card, key, place });
      const about = /\bjob\s+([\p{L}\p{N}][\p{L}\p{N}/_-]*)/iu.exec(card.title ?? card.text)?.[1];
      if (place.thread === undefined && about !== undefined && !threadByJob.has(about)) {
        threadByJob.set(about, message);
        jobByThread.set(message, about);
      }
      show(place, card, message);
      return { ok: true, posted: { message, place } };
    },
    edit: async (posted, card) => {
      const before = cards.get(posted.message);
      cards.set(posted.message, { card, key: before?.key ?? '', place: posted.place });
      // A job sheet is kept up quietly; what was a flag or a question is told again when its words change.
      const wasAlerting =
        before !== undefined &&
        (before.card.level !== undefined || (before.card.actions ?? []).length > 0);
      if (wasAlerting && before.card.text !== card.text && !jobByThread.has(posted.message)) {
        show(posted.place, card, posted.message);
      }
      return { ok: true, posted };
    },
    sign: async (place, message, mark) => {
      const word = { recorded: 'noted', asked: 'asked', unrecorded: 'struck out' }[mark];
      print(`  (${word}: ${harmless(said.get(message) ?? 'an earlier message').slice(0, 60)})`);
      prompt();
      return { ok: true, posted: { message, place } };
    },
    find: async (place, key) => {
      for (const [message, card] of [...cards].reverse()) {
        if (card.key === key && card.place.thread === place.thread) return { message, place };
      }
      return undefined;
    },
  };
}

function never(): never {
  throw new Error('Nothing is delivered while nobody is chosen.');
}
