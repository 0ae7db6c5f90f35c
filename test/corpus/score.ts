// Scores the reader on the labelled messages: `npm run corpus`. Prints per tag and over all what share is exact,
// partly right, wrong and asked, and how many safety-critical steps were recorded as done though not said to be.
// `-- --show wrong,partly` lists messages (never of the held-out part); `--plan`, `--tag`, `--manner` narrow it.
import { readdirSync, readFileSync } from 'node:fs';
import type { Act } from '../../shared/reading.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import type { ReadContext } from '../../src/language/context.ts';
import { buildLexicon, type Lexicon } from '../../src/language/lexicon.ts';
import { readMessage } from '../../src/language/read.ts';

export type Label = {
  readonly id: string;
  readonly plan: string;
  readonly text: string;
  readonly previous?: string;
  readonly at?: string;
  readonly by?: string;
  readonly positions?: readonly string[];
  readonly acts: readonly Partial<Act>[];
  readonly ask?: boolean;
  readonly tags: readonly string[];
  readonly lang: string;
  readonly manner: string;
  readonly heldout: boolean;
};

const root = new URL('../../', import.meta.url);

/** Every labelled message, the held-out ones marked. */
export function readLabels(folder = new URL('data/corpus/', root)): Label[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.jsonl'))
    .sort()
    .flatMap((name) =>
      readFileSync(new URL(name, folder), 'utf8')
        .split('\n')
        .filter((line) => line.trim() !== '')
        .map(
          (line): Label => ({ ...(JSON.parse(line) as Label), heldout: name.includes('heldout') }),
        ),
    );
}

/** Every plan of the project by its name. */
export function readPlans(folder = new URL('data/plans/', root)): Map<string, Plan> {
  const plans = new Map<string, Plan>();
  for (const name of readdirSync(folder).filter((one) => one.endsWith('.yaml'))) {
    const { plan } = loadPlan(readFileSync(new URL(name, folder), 'utf8'), name);
    if (plan) plans.set(plan.plan, plan);
  }
  return plans;
}

const lexicons = new Map<string, Lexicon>();
export function lexiconOf(plan: Plan): Lexicon {
  const have = lexicons.get(plan.hash);
  if (have) return have;
  const made = buildLexicon(plan);
  lexicons.set(plan.hash, made);
  return made;
}

export function contextOf(label: Pick<Label, 'previous' | 'at' | 'by' | 'positions'>): ReadContext {
  const bot = label.previous?.startsWith('bot:') ?? false;
  return {
    ...(label.at === undefined ? {} : { at: label.at }),
    ...(label.by === undefined ? {} : { by: label.by }),
    ...(label.positions === undefined ? {} : { positions: label.positions }),
    ...(label.previous === undefined
      ? {}
      : {
          previous: [
            bot
              ? { id: 'before', from: 'bot' as const, text: label.previous.slice(4).trim() }
              : { id: 'before', from: 'person' as const, text: label.previous },
          ],
        }),
  };
}

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
const FIELDS = ['kind', 'step', 'stage', 'code', 'by', 'job', 'was', 'command', 'again'] as const;

/** How far a read act is what the label says: the number of differences, fields the label leaves out aside. */
export function differences(want: Partial<Act>, got: Act): string[] {
  const out: string[] = [];
  for (const field of FIELDS) {
    const wanted = want[field];
    const have = got[field];
    if (field === 'again' && wanted === undefined) continue;
    if (want.kind === 'unsure' && field !== 'kind' && field !== 'step') continue;
    if (want.kind === 'finding' && field === 'step') continue;
    if (want.kind === 'unsure' && field === 'step' && have === undefined) continue;
    if (field === 'command' && wanted === undefined && want.kind === 'asks') continue;
    if (wanted !== have) out.push(`${field} ${String(wanted)} / ${String(have)}`);
  }
  if (want.positions && want.kind !== 'unsure' && !same(want.positions, got.positions))
    out.push(`positions ${want.positions.join()} / ${got.positions.join()}`);
  if (want.kind === 'unsure') return out;
  for (const field of ['quantity', 'angle'] as const) {
    const [a, b] = [want[field], got[field]];
    if (a === undefined && b === undefined) continue;
    if (!a || !b || Math.abs(a.value - b.value) > 1e-9 || a.unit !== b.unit)
      out.push(`${field} ${JSON.stringify(a)} / ${JSON.stringify(b)}`);
    else if (field === 'quantity' && want.quantity && got.quantity) {
      if (want.quantity.low !== undefined && want.quantity.low !== got.quantity.low)
        out.push('low');
      if (want.quantity.high !== undefined && want.quantity.high !== got.quantity.high)
        out.push('high');
    }
  }
  if (
    want.count === undefined
      ? got.count !== undefined && want.kind !== 'not-done'
      : got.count?.done !== want.count.done ||
        (want.count.of !== undefined && got.count?.of !== want.count.of)
  ) {
    out.push(`count ${JSON.stringify(want.count)} / ${JSON.stringify(got.count)}`);
  }
  if (want.time !== undefined ? !sameTime(want.time, got.time) : got.time !== undefined)
    out.push(`time ${want.time} / ${got.time}`);
  return out;
}

function sameTime(a: string, b: string | undefined): boolean {
  if (b === undefined) return false;
  if (a === b) return true;
  return a.includes('T') && b.includes('T') && Date.parse(a) === Date.parse(b);
}

export type Verdict = {
  readonly outcome: 'exact' | 'partly' | 'wrong' | 'asked';
  readonly notes: string[];
  readonly falseDone: string[];
};

/** Compares a reading with its label. */
export function judge(label: Label, acts: readonly Act[], plan: Plan): Verdict {
  const got = acts.filter((act) => act.kind !== 'unsure' || true);
  const falseDone = falselyDone(label, got, plan);
  const asks = got.some((act) => act.kind === 'unsure');
  if (label.ask && asks && falseDone.length === 0) {
    return { outcome: 'exact', notes: [], falseDone };
  }
  const left = [...got];
  const notes: string[] = [];
  let right = 0;
  for (const want of label.acts) {
    const rated = left
      .map((act) => ({ act, diff: differences(want, act) }))
      .sort((a, b) => a.diff.length - b.diff.length);
    const best = rated[0];
    if (!best) {
      notes.push(`missing ${want.kind} ${want.step ?? want.command ?? ''}`);
      continue;
    }
    if (best.diff.length === 0) {
      right += 1;
      left.splice(left.indexOf(best.act), 1);
    } else {
      notes.push(best.diff.join('; '));
      if (best.act.step === want.step || best.act.kind === want.kind)
        left.splice(left.indexOf(best.act), 1);
    }
  }
  for (const act of left) notes.push(`extra ${act.kind} ${act.step ?? act.command ?? ''}`);
  if (notes.length === 0) return { outcome: 'exact', notes, falseDone };
  if (asks && !label.ask) return { outcome: 'asked', notes, falseDone };
  return { outcome: right > 0 ? 'partly' : 'wrong', notes, falseDone };
}

function falselyDone(label: Label, acts: readonly Act[], plan: Plan): string[] {
  const out: string[] = [];
  for (const act of acts) {
    if (act.kind !== 'done' || act.step === undefined) continue;
    if (plan.stepById.get(act.step)?.weight !== 'safety-critical') continue;
    const said = label.acts.filter(
      (one) => (one.kind === 'done' || one.kind === 'partial') && one.step === act.step,
    );
    const corrects = label.acts.some((one) => one.kind === 'corrects' && one.step === act.step);
    if (said.length === 0 && !corrects) {
      out.push(act.step);
      continue;
    }
    const positions = new Set(said.flatMap((one) => one.positions ?? []));
    if (
      !corrects &&
      act.positions.some((position) => !positions.has(position)) &&
      positions.size > 0
    )
      out.push(`${act.step} at ${act.positions.join()}`);
  }
  return out;
}

type Tally = {
  all: number;
  exact: number;
  partly: number;
  wrong: number;
  asked: number;
  falseDone: number;
};
const empty = (): Tally => ({ all: 0, exact: 0, partly: 0, wrong: 0, asked: 0, falseDone: 0 });

function add(tally: Tally, verdict: Verdict): void {
  tally.all += 1;
  tally[verdict.outcome] += 1;
  if (verdict.falseDone.length > 0) tally.falseDone += 1;
}

const row = (name: string, t: Tally) => {
  const share = (n: number) => `${((100 * n) / Math.max(1, t.all)).toFixed(1)} %`.padStart(8);
  return `${name.padEnd(18)}${String(t.all).padStart(6)}${share(t.exact)}${share(t.partly)}${share(t.wrong)}${share(t.asked)}${String(t.falseDone).padStart(7)}`;
};

/** What was reached, so that a change does not lose it unseen; raised when the reading gets better. */
const FLOOR = 0.82;
const HELD_OUT_FALSE = 1;

const optionOf = (args: readonly string[], name: string): string =>
  (args.includes(name) ? args[args.indexOf(name) + 1] : undefined) ?? '';

const shownBy = (args: readonly string[]): ReadonlySet<string> =>
  new Set(optionOf(args, '--show').split(','));

/** Whether a message is among those that `--plan`, `--manner`, `--lang` and `--tag` leave. */
function wantedBy(args: readonly string[]): (label: Label) => boolean {
  const [plan, manner, lang, tag] = ['--plan', '--manner', '--lang', '--tag'].map((name) =>
    optionOf(args, name),
  );
  return (label) =>
    (!plan || label.plan.startsWith(plan)) &&
    (!manner || label.manner === manner) &&
    (!lang || label.lang === lang) &&
    (!tag || label.tags.includes(tag));
}

/** Prints a message whose verdict was asked for with `--show`. */
function list(label: Label, verdict: Verdict, show: ReadonlySet<string>): void {
  if (!show.has(verdict.outcome) && !(show.has('false') && verdict.falseDone.length > 0)) return;
  console.log(
    `${label.id} ${verdict.outcome}${verdict.falseDone.length > 0 ? ' FALSE DONE' : ''}: ${JSON.stringify(label.text)}${label.previous ? ` <- ${JSON.stringify(label.previous)}` : ''}\n    ${verdict.notes.join(' | ')}`,
  );
}

/** The folders beside this file with messages on plans the reading was not written with, and their titles. */
const UNSEEN_FOLDERS = [
  { name: 'unseen/', title: 'unseen plans' },
  { name: 'field/', title: 'field' },
] as const;

/** Scores the messages of one such folder on the plans in it; the README there says more. */
function scoreUnseen(
  args: readonly string[],
  { name, title }: (typeof UNSEEN_FOLDERS)[number],
): void {
  const show = shownBy(args);
  const folder = new URL(name, import.meta.url);
  const plans = readPlans(folder);
  const parts = { seen: empty(), heldout: empty() };
  for (const label of readLabels(folder).filter(wantedBy(args))) {
    const plan = plans.get(label.plan);
    if (!plan) throw new Error(`No plan ${label.plan} for ${label.id}: put it into ${folder}.`);
    const reading = readMessage(label.text, lexiconOf(plan), contextOf(label));
    const verdict = judge(label, reading.acts, plan);
    add(label.heldout ? parts.heldout : parts.seen, verdict);
    if (!label.heldout) list(label, verdict, show);
  }
  console.log(`\n${title.padEnd(18)}   all   exact  partly   wrong   asked  false`);
  console.log(row('seen', parts.seen));
  console.log(row('held out', parts.heldout));
}

function main(args: readonly string[]): number {
  const show = shownBy(args);
  const plans = readPlans();
  const parts = { seen: empty(), heldout: empty() };
  const byTag = new Map<string, Tally>();
  const missing = new Set<string>();
  for (const label of readLabels().filter(wantedBy(args))) {
    const plan = plans.get(label.plan);
    if (!plan) {
      missing.add(label.plan);
      continue;
    }
    const reading = readMessage(label.text, lexiconOf(plan), contextOf(label));
    const verdict = judge(label, reading.acts, plan);
    add(label.heldout ? parts.heldout : parts.seen, verdict);
    if (label.heldout) continue;
    for (const tag of [
      `lang:${label.lang}`,
      `manner:${label.manner}`,
      `plan:${label.plan}`.slice(0, 17),
      ...label.tags,
    ]) {
      const tally = byTag.get(tag) ?? empty();
      add(tally, verdict);
      byTag.set(tag, tally);
    }
    list(label, verdict, show);
  }
  console.log(`${''.padEnd(18)}   all   exact  partly   wrong   asked  false`);
  console.log(row('seen', parts.seen));
  console.log(row('heldout', parts.heldout));
  if (!args.includes('--brief'))
    for (const [tag, tally] of [...byTag].sort()) console.log(row(tag, tally));
  const gap =
    parts.seen.exact / Math.max(1, parts.seen.all) -
    parts.heldout.exact / Math.max(1, parts.heldout.all);
  console.log(
    `Seen less held out: ${(100 * gap).toFixed(1)} points. "false" counts messages with a safety-critical step recorded as done though not said to be.`,
  );
  for (const name of missing) console.log(`No plan file for ${name}: its messages are left out.`);
  const exact = parts.seen.exact / Math.max(1, parts.seen.all);
  if (parts.seen.falseDone > 0) {
    console.log(
      'A safety-critical step is recorded as done though not said to be. See it with --show false.',
    );
    return 1;
  }
  if (parts.heldout.falseDone > 0)
    console.log(
      `Held out, ${parts.heldout.falseDone} still are: they are counted, never looked at, and not to grow.`,
    );
  if (args.includes('--check') && (exact < FLOOR || parts.heldout.falseDone > HELD_OUT_FALSE)) {
    console.log(
      `Below what was reached before: ${(100 * FLOOR).toFixed(0)} % exact, ${HELD_OUT_FALSE} false held out.`,
    );
    return 1;
  }
  return 0;
}

if (process.argv[1]?.endsWith('score.ts')) {
  const args = process.argv.slice(2);
  process.exitCode = main(args);
  for (const folder of UNSEEN_FOLDERS) scoreUnseen(args, folder);
}
