// `chargehand read`: messages as JSON lines on standard input, their acts as JSON lines on standard output.
import { createInterface } from 'node:readline';
import { parseArgs } from 'node:util';
import { ReadInput } from '../../shared/reading.ts';
import { misfits } from '../desk/misfit-words.ts';
import type { ReadContext } from '../language/context.ts';
import { buildLexicon } from '../language/lexicon.ts';
import { readMessage } from '../language/read.ts';
import { complain } from './complain.ts';
import { planFromFile, positionsFromList } from './plan-file.ts';

/**
 * `read --plan FILE [--positions LIST] [--explain]`.
 *
 * Every good line is answered; a line that is no message is named on standard error.
 *
 * @returns 0, or 2 where the options or some line were wrong
 */
export async function run(args: readonly string[]): Promise<number> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      plan: { type: 'string' },
      positions: { type: 'string' },
      explain: { type: 'boolean', default: false },
    },
  });
  const plan = await planFromFile(values.plan);
  if (!plan) return 2;
  const positions = positionsFromList(plan, values.positions);
  if (!positions) return 2;
  const lexicon = buildLexicon(plan);
  let code = 0;
  let number = 0;
  for await (const line of createInterface({ input: process.stdin })) {
    number += 1;
    if (line.trim() === '') continue;
    const input = parseLine(line);
    if (typeof input === 'string') {
      code = complain(
        `Line ${number} is no message: ${input}`,
        'Write one JSON object a line, such as {"id":"1","text":"drained 28 L"}.',
      );
      continue;
    }
    const reading = readMessage(input.text, lexicon, contextOf(input, positions));
    const out = { id: input.id, text: input.text, acts: reading.acts };
    const shown = values.explain ? { ...out, explained: reading.explained } : out;
    process.stdout.write(`${JSON.stringify(shown)}\n`);
  }
  return code;
}

/** The message of a line, or what is wrong with it. */
function parseLine(line: string): ReadInput | string {
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    return 'it is not JSON.';
  }
  const parsed = ReadInput.safeParse(value);
  if (parsed.success) return parsed.data;
  return misfits(parsed.error.issues, value, FORM)
    .map(({ says }) => says)
    .join(' ');
}

const FORM = {
  keysAt: () => Object.keys(ReadInput.shape),
  meant: { message: 'text', author: 'by', from: 'by', time: 'at' },
  examples: {
    id: '"id": "1"',
    text: '"text": "drained 28 L"',
    at: '"at": "2026-11-25T14:10:00+00:00"',
    by: '"by": "Ada"',
    previous: '"previous": "bot: Which cylinder?"',
  },
};

function contextOf(input: ReadInput, positions: readonly string[]): ReadContext {
  const previous = input.previous;
  const bot = previous?.startsWith('bot:') ?? false;
  return {
    ...(input.at === undefined ? {} : { at: input.at }),
    ...(input.by === undefined ? {} : { by: input.by }),
    ...(positions.length > 0 ? { positions } : {}),
    ...(previous === undefined
      ? {}
      : {
          previous: [
            {
              id: `${input.id} previous`,
              from: bot ? 'bot' : 'person',
              text: bot ? previous.slice(4).trim() : previous,
            },
          ],
        }),
  };
}
