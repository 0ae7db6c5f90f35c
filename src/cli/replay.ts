// `chargehand replay`: a transcript said again.
import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { TranscriptLine } from '../../shared/replay.ts';
import { misfits } from '../desk/misfit-words.ts';
import { replay } from '../desk/replay.ts';
import { complain } from './complain.ts';
import { diskTrouble } from './known-trouble.ts';
import { planFromFile, positionsFromList } from './plan-file.ts';
import { showConversation } from './show-conversation.ts';

/** Broken lines named one by one; more are counted. */
const NAMED = 10;

/** Lines of a transcript, and every line that does not fit with its place. */
export const transcriptFrom = (
  text: string,
  file: string,
): { readonly lines: readonly TranscriptLine[] } | { readonly problems: readonly string[] } => {
  const lines: TranscriptLine[] = [];
  const problems: string[] = [];
  const seen = new Map<string, string>();
  for (const [index, row] of text.split('\n').entries()) {
    if (row.trim() === '') continue;
    const line = lineFrom(row);
    if (typeof line === 'string') {
      problems.push(`${file}:${index + 1}: ${line}`);
      continue;
    }
    const known = seen.get(line.id);
    if (known !== undefined && known !== row.trim())
      problems.push(
        `${file}:${index + 1}: the id ${line.id.slice(0, 60)} is used for two different lines.`,
      );
    if (known !== undefined) continue;
    seen.set(line.id, row.trim());
    lines.push(line);
  }
  return problems.length > 0 ? { problems } : { lines };
};

/** One line, or what is wrong with it. */
const lineFrom = (row: string): TranscriptLine | string => {
  let plain: unknown;
  try {
    plain = JSON.parse(row);
  } catch {
    return 'the line is no JSON.';
  }
  const line = TranscriptLine.safeParse(plain);
  if (!line.success)
    return misfits(line.error.issues, plain, FORM)
      .map(({ says }) => says)
      .join(' ');
  if (line.data.text === undefined && line.data.deletes === undefined)
    return 'a line without text deletes another; this one names none.';
  return line.data;
};

const FORM = {
  keysAt: () => Object.keys(TranscriptLine.shape),
  meant: { message: 'text', author: 'by', from: 'by', time: 'at' },
  examples: {
    id: '"id": "m1"',
    at: '"at": "2026-11-25T14:10:00+00:00"',
    by: '"by": "Ada"',
    role: '"role": "technician"',
    text: '"text": "drained 28 L"',
    edits: '"edits": "m1"',
    deletes: '"deletes": "m1"',
  },
};

const USAGE =
  'npx chargehand replay --plan FILE [--positions LIST] [--options LIST] [--now ISO] [--live] [--json] TRANSCRIPT.jsonl';

export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      plan: { type: 'string' },
      positions: { type: 'string' },
      options: { type: 'string' },
      now: { type: 'string' },
      json: { type: 'boolean' },
      live: { type: 'boolean' },
    },
  });
  const [file] = positionals;
  if (!file || positionals.length > 1) return complain('Give one transcript.', USAGE);
  if (
    values.now !== undefined &&
    !/^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:\d\d)$/u.test(values.now)
  )
    return complain(
      `--now ${values.now.slice(0, 40)} is no time with an offset.`,
      'Write it as 2026-11-25T14:10:00+00:00.',
    );
  const plan = await planFromFile(values.plan);
  if (!plan) return 2;
  const positions = positionsFromList(plan, values.positions);
  if (!positions) return 2;
  const options = (values.options ?? '')
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');
  const unknown = options.find((option) => !plan.options?.[option]);
  if (unknown)
    return complain(
      `"${unknown}" is no option of the plan ${plan.plan}.`,
      `Its options: ${Object.keys(plan.options ?? {}).join(', ') || 'none'}.`,
    );
  let text: string;
  try {
    text = file === '-' ? await standardInput() : await readFile(file, 'utf8');
  } catch (error) {
    return complain(
      (error as NodeJS.ErrnoException).code === 'ENOENT'
        ? `There is no transcript ${file}.`
        : `The transcript ${file} ${diskTrouble(error)?.what ?? `cannot be read: ${(error as Error).message}`}`,
      'Check the path and the file.',
    );
  }
  const transcript = transcriptFrom(text, file);
  if ('problems' in transcript)
    return complain(
      [
        ...transcript.problems.slice(0, NAMED),
        ...(transcript.problems.length > NAMED
          ? [`and ${transcript.problems.length - NAMED} more.`]
          : []),
      ].join('\n'),
      'Mend each line: {"id", "at" (ISO with offset), "by", "role"?, "text", "edits"?, "deletes"?}.',
    );
  const { result, moments } = replay(plan, transcript.lines, {
    positions,
    options,
    ...(values.now ? { now: values.now } : {}),
    ...(values.live ? { live: true } : {}),
  });
  process.stdout.write(
    values.json ? `${JSON.stringify(result, null, 1)}\n` : showConversation(moments, result),
  );
  return result.flags.some((flag) => !flag.clearedBy && flag.level !== 'advice') ? 1 : 0;
};

const standardInput = async (): Promise<string> => {
  const chunks: Buffer[] = [];
  for await (const chunk of process.stdin) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('utf8');
};
