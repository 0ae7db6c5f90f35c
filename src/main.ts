// Reads the settings, joins the parts, starts.
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Logger } from 'pino';
import { parse } from 'yaml';
import type { Delivery } from '../shared/delivery.ts';
import type { Settings } from '../shared/settings.ts';
import { type RegisteredTool, ToolRegister } from '../shared/tools.ts';
import { benchChannel } from './chat/bench/bench-channel.ts';
import type { BenchNetwork } from './chat/bench/bench-options.ts';
import type { BenchView } from './chat/bench/bench-view.ts';
import { terminalBench } from './chat/bench/terminal.ts';
import type { Channel } from './chat/channel.ts';
import { documentPdf } from './chat/document-pdf.ts';
import type { SlackParts } from './chat/slack/slack-channel.ts';
import { slackTokensFrom } from './chat/slack/tokens.ts';
import { removeOldFromBench } from './cli/bench-removal.ts';
import { chooseStore, holdBench, servesBench } from './cli/choose-store.ts';
import { diskTrouble } from './cli/known-trouble.ts';
import { settingsWriter } from './cli/settings-writer.ts';
import { sharedWorkshop } from './cli/shared-workshop.ts';
import { teamsFor } from './cli/teams-start.ts';
import { readSettings } from './desk/settings-file.ts';
import { type Workshop, workshopOf } from './desk/workshop.ts';
import { benchViewOf } from './floor/bench-jobs.ts';
import { makeFloor, type RunningFloor } from './floor/floor.ts';
import type { Home } from './floor/outbox.ts';
import { planDesk } from './floor/plan-desk.ts';
import { limitOf, retentionRule, threadsToKeep } from './floor/retention.ts';
import { NO_JOB } from './floor/say-outside.ts';
import { troubleTeller } from './floor/tell-trouble.ts';
import { healthDesk } from './health/health-desk.ts';
import { type HealthServer, healthServer } from './health/health-server.ts';
import { openLog, secretsOf } from './health/open-log.ts';
import { VERSION } from './health/version.ts';
import { loadPlan } from './job/load-plan.ts';
import type { Plan } from './job/plan.ts';
import { planCheck } from './job/plan-check.ts';
import { timers } from './schedule/timers.ts';
import { diskFiles } from './store/file-seam.ts';
import { writeWhole } from './store/whole-write.ts';

/** A wrong setting or a broken file at the start: what, and what to do. */
export class StartTrouble extends Error {
  readonly what: string;
  readonly doThis: string;
  constructor(what: string, doThis: string) {
    super(`${what} ${doThis}`);
    this.what = what;
    this.doThis = doThis;
  }
}

export const DATA = join(import.meta.dirname, '..', 'data');

/** The settings of the data folder; the demonstration settings are copied there when it has none. */
export const settingsIn = async (folder: string): Promise<Settings> => {
  const file = join(folder, 'settings.yaml');
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT')
      throw new StartTrouble(
        `The settings ${file} ${diskTrouble(error)?.what ?? `cannot be read: ${(error as Error).message}`}`,
        'Check the file and who may read it.',
      );
    text = await readFile(join(DATA, 'demo', 'settings.yaml'), 'utf8');
    await mkdir(folder, { recursive: true });
    await writeFile(file, text, { flag: 'wx' });
  }
  const read = readSettings(text, file);
  if (read.ok) return read.settings;
  throw new StartTrouble(read.complaints.join('\n'), 'Mend the settings and start again.');
};

/** Every plan of the shipped folder and of those the settings name. A plan with errors is named and left out. */
export const plansIn = async (
  folders: readonly string[],
  complain: (what: string) => void,
): Promise<readonly Plan[]> => {
  const plans = new Map<string, Plan>();
  for (const folder of folders) {
    let files: string[];
    try {
      files = (await readdir(folder)).filter((file) => /\.ya?ml$/u.test(file)).sort();
    } catch {
      complain(
        `The plan folder ${folder} cannot be read. Make it, or take it out of the settings.`,
      );
      continue;
    }
    for (const file of files) {
      const path = join(folder, file);
      const { plan, complaints } = loadPlan(await readFile(path, 'utf8'), path);
      if (plan) plans.set(plan.plan, plan);
      else
        complain(
          `The plan ${path} is left out: it has ${complaints.length} complaints. Run "npx chargehand plan check ${path}".`,
        );
    }
  }
  return [...plans.values()];
};

/** The register of torque tools: the workshop's own in its data folder, else the shipped demonstration. */
export const toolsIn = async (folder: string): Promise<readonly RegisteredTool[]> => {
  for (const file of [join(folder, 'tools.yaml'), join(DATA, 'tools.yaml')]) {
    let text: string;
    try {
      text = await readFile(file, 'utf8');
    } catch {
      continue;
    }
    let plain: unknown;
    try {
      plain = parse(text);
    } catch (error) {
      throw new StartTrouble(
        `The tool register ${file} is not read: ${(error as Error).message.split('\n')[0]}`,
        'Mend the line and start again.',
      );
    }
    const read = ToolRegister.safeParse(plain);
    if (read.success) return read.data.tools;
    const [first] = read.error.issues;
    throw new StartTrouble(
      `The tool register ${file} does not fit at ${first?.path.map(String).join('.') || 'the top'}: ${first?.message ?? ''}.`,
      'Each tool has id, kind and, where it has dates, calibrated and due.',
    );
  }
  return [];
};

export type Started = {
  readonly address: string | undefined;
  /** A code that lets one device in for a person, where the bench is open to the network. */
  readonly letIn?: (person: string) => Promise<{ readonly code: string } | undefined>;
  readonly healthAddress: string | undefined;
  readonly workshop: Workshop;
  readonly running: RunningFloor;
  readonly says: readonly string[];
  readonly stop: () => Promise<void>;
};

/** The folder of the plans that are written on the bench; undefined where it cannot be made. */
const ownPlansIn = async (folder: string): Promise<string | undefined> => {
  const own = join(folder, 'plans');
  try {
    await mkdir(own, { recursive: true });
    return own;
  } catch {
    return undefined;
  }
};

export type StartOptions = {
  readonly folder: string;
  readonly port: number;
  /** Serves the health on a port of its own too; 0 lets the system choose. */
  readonly healthPort?: number;
  readonly terminal?: boolean;
  /** A loopback address, unless `network` is given; 127.0.0.1 when left out. */
  readonly host?: string;
  readonly network?: BenchNetwork;
  readonly env: NodeJS.ProcessEnv;
  /** One Slack workspace of several in this process, joined through a receiver they share; then there is no bench. */
  readonly workspace?: Pick<
    SlackParts,
    'tokens' | 'receiver' | 'onGone' | 'clientOptions' | 'paceSeconds' | 'wait'
  >;
  readonly clock?: () => string;
  readonly logger?: Logger;
  readonly loadDemo?: (parts: {
    readonly running: RunningFloor;
    readonly handIn: (delivery: Delivery) => Promise<void>;
    readonly clockAt: (iso: string | undefined) => void;
  }) => Promise<void>;
};

/** The Slack channel where its tokens are set; its package is loaded only then. */
const slackFor = async (
  { env, workspace }: Pick<StartOptions, 'env' | 'workspace'>,
  parts: Omit<SlackParts, 'tokens'>,
): Promise<Channel | undefined> => {
  if (workspace) {
    const { slackChannel } = await import('./chat/slack/slack-channel.ts');
    return slackChannel({ ...parts, ...workspace });
  }
  const found = slackTokensFrom(env);
  if (found.kind === 'none') return undefined;
  if (found.kind === 'half') throw new StartTrouble(found.what, found.doThis);
  const { slackChannel } = await import('./chat/slack/slack-channel.ts');
  return slackChannel({ ...parts, tokens: found.tokens });
};

/** The demonstration is offered only where its people are in the settings. */
const knowsDemoPeople = async (settings: Settings): Promise<boolean> => {
  const names = new Set(settings.people.map((person) => person.name));
  return (await settingsIn(join(DATA, 'demo'))).people.every((person) => names.has(person.name));
};

/** The log's file, or a complaint on the screen once it can no longer be written: the jobs go on without it. */
export const logIn = (folder: string, env: NodeJS.ProcessEnv): Promise<Logger> => {
  const file = join(folder, 'chargehand.log');
  return openLog(file, secretsOf(env), (error) => {
    process.stderr.write(
      `The log ${file} ${diskTrouble(error)?.what ?? `is not written any more: ${error.message}`}\nMake room on the disk, or let this account write the file. The jobs go on.\n`,
    );
  });
};

/** Starts a workshop: bench always, Slack where tokens are set. Throws StartTrouble with one clear line. */
export const startWorkshop = async (options: StartOptions): Promise<Started> => {
  const realClock = options.clock ?? (() => new Date().toISOString());
  /** The demonstration is loaded at the times of its own shift. */
  let toldTime: string | undefined;
  const clock = (): string => toldTime ?? realClock();
  const says: string[] = [];
  const settings = await settingsIn(options.folder);
  const complain = (what: string): void => void says.push(what);
  const given = await plansIn([join(DATA, 'plans'), ...(settings.plans ?? [])], complain);
  const ownPlans = await ownPlansIn(options.folder);
  const saved = ownPlans === undefined ? [] : await plansIn([ownPlans], complain);
  const plans = new Map([...given, ...saved].map((plan) => [plan.plan, plan]));
  // The plan desk adds to the plans while the workshop runs.
  const workshop: Workshop = {
    ...workshopOf(settings, [...plans.values()], await toolsIn(options.folder)),
    plans,
  };
  const logger = options.logger ?? (await logIn(options.folder, options.env));
  const log = (level: 'info' | 'warn' | 'error', what: string, more?: object): void =>
    logger[level](more ?? {}, what);
  const schedule = timers(clock);
  const health = healthDesk(clock);
  const channels: Channel[] = [];
  const homes: { bench?: Home; slack?: Home; teams?: Home } = {
    bench: { team: 'bench', place: 'yard' },
  };
  const troubles = troubleTeller({ channels: () => channels, homes, schedule, clock, log });
  const store = await chooseStore(options.env, options.folder, settings, {
    clock,
    onTrouble: (trouble) => {
      log('error', trouble.message, { kind: trouble.kind });
      health.trouble(trouble.kind);
      troubles.tell(trouble);
    },
  });
  const opened = await store.open();
  const withBench = servesBench(options.env);
  if (withBench && options.terminal) await holdBench(store);
  const shelf = store.shared?.shelf;
  const common =
    shelf && (await sharedWorkshop(shelf, settings, plans, clock, (why) => log('warn', why)));
  for (const aside of opened.setAside)
    says.push(
      `${aside.file} could not be read (${aside.why}) and was set aside as ${aside.movedTo}. The other jobs go on.`,
    );

  const keepDays = settings['keep-text-days'];
  if (keepDays !== undefined) {
    const limit = limitOf(clock(), keepDays);
    const kept = threadsToKeep(await store.list(), limit);
    await removeOldFromBench(store, options.folder, limit, kept);
  }

  let running: RunningFloor | undefined;
  const view: BenchView = benchViewOf(
    () => {
      if (!running) throw new Error('The floor was asked before it was made.');
      return running.floor;
    },
    (listener) => running?.onChange(listener) ?? (() => undefined),
  );
  const benchThread = async (job: string): Promise<string | undefined> =>
    (await running?.floor.legible(job))?.threads.find((thread) => thread.channel === 'bench')
      ?.thread;
  const bench =
    options.terminal || options.workspace || !withBench
      ? undefined
      : benchChannel({
          folder: join(options.folder, 'bench'),
          ...(shelf ? { shelf } : {}),
          port: options.port,
          host: options.host ?? '127.0.0.1',
          ...(options.network ? { network: options.network } : {}),
          ownCodeOf: (person) => settings.people.find(({ name }) => name === person)?.code,
          view,
          clock,
          log: {
            info: (facts, text) => logger.info(facts, text),
            warn: (facts, text) => logger.warn(facts, text),
            error: (facts, text) => logger.error(facts, text),
          },
          threadOf: benchThread,
          health: health.answer,
          planCheck: (text) => planCheck(text, 'plan.yaml').complaints,
          planDesk: planDesk({
            workshop,
            plans,
            fixed: new Set(given.map(({ plan }) => plan)),
            inUse: async () => {
              const floor = running?.floor;
              const views = floor ? await floor.viewsOf(await floor.openJobs()) : [];
              return new Set(views.map((job) => job.plan.plan));
            },
            write: async (plan, text) => {
              if (common) return common.writePlan(plan, text);
              const folder = ownPlans ?? join(options.folder, 'plans');
              await writeWhole(diskFiles, join(folder, `${plan}.yaml`), Buffer.from(text));
            },
            clock,
          }),
          // Its times are those of a clock of this process, and with a database another one may work it off.
          ...(options.loadDemo && !shelf && (await knowsDemoPeople(settings))
            ? {
                loadDemo: async () =>
                  void (
                    running &&
                    bench &&
                    (await options.loadDemo?.({
                      running,
                      handIn: bench.handIn,
                      clockAt: (iso) => {
                        toldTime = iso;
                      },
                    }))
                  ),
              }
            : {}),
        });
  if (!withBench) delete homes.bench;
  if (bench) channels.push(bench);
  else if (!options.workspace && withBench)
    channels.push(terminalBench({ view, clock, threadOf: benchThread }));
  // People are taken in while the workshop runs, so the channel looks them up where they stand now.
  const people = {
    get people() {
      return (running?.floor.workshop.settings ?? settings).people;
    },
    slack: settings.slack,
  };
  const slack = await slackFor(options, { clock, store, settings: people, log });
  if (slack) channels.push(slack);
  if (settings.slack?.channel && slack) homes.slack = { team: '', place: settings.slack.channel };
  const teams = await teamsFor(options.workspace ? {} : options.env, options.folder, settings, {
    clock,
    store,
    ...(shelf ? { shelf } : {}),
    log,
  });
  if (teams) channels.push(teams.channel);
  if (teams?.home) homes.teams = teams.home;

  running = makeFloor({
    store,
    workshop,
    channels,
    homes,
    planOf: (text, id) => loadPlan(text, id).plan,
    print: (document) => documentPdf(document, 'A4'),
    schedule,
    clock,
    log,
    ...(common ? { lookForPeople: common.look } : {}),
    takeIn:
      common?.takeIn ??
      settingsWriter(options.folder, () => (running?.floor.workshop ?? workshop).settings, clock),
    watch: health.count,
  });
  const made = running;
  common?.begin(made.changeSettings);
  health.watch({
    clock,
    folder: options.folder,
    backlogs: made.backlogs,
    inbox: async () => (await store.waiting()).length,
    jobs: async () => (await store.list()).filter(({ job }) => job !== NO_JOB),
  });
  let healthPort: HealthServer | undefined;
  try {
    if (options.healthPort !== undefined)
      healthPort = await healthServer(health, options.healthPort);
    await made.start();
  } catch (error) {
    // What was begun would keep the process alive.
    common?.stop();
    await made.stop();
    await healthPort?.stop();
    throw error;
  }
  troubles.begin();
  retentionRule(keepDays, {
    ...{ store, schedule, clock, log, forget: made.forget },
    ...(store.shared
      ? {
          talk: (before: string, kept: ReadonlySet<string>) =>
            removeOldFromBench(store, options.folder, before, kept),
        }
      : bench && { talk: bench.removeTalk }),
  });
  log('info', 'started', { version: VERSION, channels: channels.map(({ name }) => name) });
  return {
    address: bench?.address(),
    letIn: async (person) => bench?.letIn(person),
    healthAddress: healthPort?.address,
    workshop,
    running: made,
    says,
    stop: async () => {
      common?.stop();
      await made.stop();
      await healthPort?.stop();
      log('info', 'stopped', { postsLeft: made.backlog() });
    },
  };
};
