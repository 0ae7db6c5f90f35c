// Component codes read and entered, and trouble codes before and after the work.
import type { Ask } from '../../../shared/plan.ts';
import type { RecordCode, RecordTrouble } from '../../../shared/record.ts';
import type { Report } from '../../job/view.ts';
import { bareCode } from '../../trade/look-alike.ts';
import { parseTroubleCode, type TroubleCode, writeTroubleCode } from '../../trade/trouble-code.ts';
import { compareTroubleCodes } from '../../trade/trouble-code-compare.ts';
import { reportsOn, type Sources } from './sources.ts';

type CodeAsk = Extract<Ask, { kind: 'code' }>;
type TroubleAsk = Extract<Ask, { kind: 'trouble-codes' }>;
type Said = NonNullable<RecordCode['read']>;

export const recordCodes = (sources: Sources): readonly RecordCode[] => {
  const rows = new Map<
    string,
    { of: string; position: string | null; read: Said | null; entered: Said | null }
  >();
  for (const progress of sources.view.steps) {
    const asks = (sources.view.plan.stepById.get(progress.step)?.report ?? []).filter(
      (ask): ask is CodeAsk => ask.kind === 'code',
    );
    if (progress.state === 'not-on-job') continue;
    for (const { of, do: doing } of asks) {
      const key = `${of}|${progress.position ?? ''}`;
      const row = rows.get(key) ?? { of, position: progress.position, read: null, entered: null };
      const last = reportsOn(sources, progress, progress.messages).findLast(
        ({ act }) => act.code !== undefined,
      );
      if (last)
        row[doing === 'read' ? 'read' : 'entered'] = {
          code: last.act.code ?? '',
          at: last.when,
          by: last.worker,
          message: last.message,
        };
      rows.set(key, row);
    }
  }
  return [...rows.values()].map((row) => ({
    ...row,
    agree: row.read && row.entered ? bareCode(row.read.code) === bareCode(row.entered.code) : null,
  }));
};

type Reading = RecordTrouble['before'][number];

/** A reading is what one message says at a step that asks for trouble codes. */
const readingsOf = (sources: Sources, kind: TroubleAsk['ask']): readonly Reading[] =>
  sources.view.steps.flatMap((progress) => {
    const asked = sources.view.plan.stepById
      .get(progress.step)
      ?.report?.some((ask) => ask.kind === 'trouble-codes' && ask.ask === kind);
    if (!asked) return [];
    const byMessage = new Map<string, Report[]>();
    for (const report of reportsOn(sources, progress))
      byMessage.set(report.message, [...(byMessage.get(report.message) ?? []), report]);
    return [...byMessage].map(([message, reports]): Reading => {
      const [first] = reports;
      return {
        step: progress.step,
        title: sources.titleOf(progress.step),
        position: progress.position,
        at: first?.when ?? '',
        by: first?.worker ?? '',
        codes: [...new Set(reports.flatMap(({ act }) => (act.code ? [written(act.code)] : [])))],
        message,
      };
    });
  });

/** The standard's way of writing a code; a text of no known form stays as it was posted. */
const written = (text: string): string => {
  const parsed = parseTroubleCode(text);
  return parsed.ok ? writeTroubleCode(parsed.value) : text.trim().toUpperCase();
};

const parsedOf = (readings: readonly Reading[]): readonly TroubleCode[] =>
  readings
    .flatMap(({ codes }) => codes)
    .flatMap((text) => {
      const parsed = parseTroubleCode(text);
      return parsed.ok ? [parsed.value] : [];
    });

/** What is gone, still there or new is said only once the codes were read after the work. */
export const recordTrouble = (sources: Sources): RecordTrouble => {
  const before = readingsOf(sources, 'before');
  const cleared = readingsOf(sources, 'cleared');
  const after = readingsOf(sources, 'none-active');
  const last = after.at(-1);
  const change = last && compareTroubleCodes([parsedOf(before), parsedOf([last])]);
  return {
    before: [...before],
    cleared: [...cleared],
    after: [...after],
    gone: change?.cleared.map(writeTroubleCode) ?? [],
    still: change?.stillThere.map(writeTroubleCode) ?? [],
    fresh: change?.fresh.map(writeTroubleCode) ?? [],
  };
};
