import { readFileSync } from 'node:fs';
import { formatComplaint, planCheck } from '../job/plan-check.ts';

const USE = 'Use: chargehand plan check FILE [--json]';

/**
 * `chargehand plan check FILE [--json]`: every complaint about a plan file, or the plan read back in plain sentences.
 *
 * `args` is what follows the two words. Answers the exit code: 0 good (warnings included), 1 complaints, 2 wrong use.
 */
export async function run(args: readonly string[]): Promise<number> {
  const unknown = args.find((arg) => arg.startsWith('-') && arg !== '--json');
  if (unknown !== undefined) return wrongUse(`plan check has no option ${unknown}.`, USE);
  const [file, more] = args.filter((arg) => arg !== '--json');
  if (file === undefined) return wrongUse('No plan file is named.', USE);
  if (more !== undefined)
    return wrongUse('More than one plan file is named.', `${USE}, one file at a time.`);
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    return wrongUse(
      `${file} cannot be read: ${reason(error)}.`,
      'Check the name and the folder of the file.',
    );
  }
  const result = planCheck(text, file);
  const lines = args.includes('--json')
    ? [JSON.stringify(result, null, 2)]
    : [
        ...result.complaints.map((complaint) => formatComplaint(file, complaint)),
        ...result.reads,
        summary(result),
      ];
  process.stdout.write(`${lines.join('\n')}\n`);
  return result.good ? 0 : 1;
}

function summary({ good, complaints }: ReturnType<typeof planCheck>): string {
  const errors = complaints.filter((complaint) => complaint.level === 'error').length;
  const warnings = complaints.length - errors;
  const counted = (count: number, thing: string) => `${count} ${thing}${count === 1 ? '' : 's'}`;
  const found = [
    errors > 0 ? counted(errors, 'complaint') : '',
    warnings > 0 ? counted(warnings, 'warning') : '',
  ]
    .filter((part) => part !== '')
    .join(', ');
  return good ? `The plan is good${found === '' ? '' : `, with ${found}`}.` : `${found}.`;
}

function reason(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT') return 'there is no such file';
  if (code === 'EISDIR') return 'it is a folder';
  if (code === 'EACCES') return 'reading it is not allowed';
  return code ?? String(error);
}

function wrongUse(what: string, doThis: string): number {
  process.stderr.write(`${what}\n${doThis}\n`);
  return 2;
}
