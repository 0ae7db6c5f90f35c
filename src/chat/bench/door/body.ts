// Reads what a request carries, within limits, and answers plainly when it is too much or in another form.
import type { IncomingMessage } from 'node:http';
import type { z } from 'zod';
import { isRefusal, type Refusal, refusal } from '../refusal.ts';

/** The bytes of a request's body, or why they are not taken. Stops listening once `limit` bytes are exceeded. */
export async function readBytes(
  request: IncomingMessage,
  limit: number,
): Promise<Buffer | Refusal> {
  const tooLarge = refusal(
    413,
    `What was sent is larger than the ${limit >= 1e6 ? `${limit / 1e6} MB` : `${Math.floor(limit / 1000)} kB`} the bench takes at once.`,
    'Send it in smaller pieces.',
  );
  if (Number(request.headers['content-length'] ?? 0) > limit) return tooLarge;
  const pieces: Buffer[] = [];
  let size = 0;
  try {
    for await (const piece of request as AsyncIterable<Buffer>) {
      size += piece.length;
      if (size > limit) return tooLarge;
      pieces.push(piece);
    }
  } catch {
    return refusal(400, 'The request broke off before its end.', 'Send it again.');
  }
  return Buffer.concat(pieces);
}

/** A JSON body in the form asked for, or one line what and one line what to do. */
export async function readJson<T>(
  request: IncomingMessage,
  schema: z.ZodType<T>,
  limit: number,
): Promise<T | Refusal> {
  const type = request.headers['content-type']?.split(';')[0]?.trim().toLowerCase();
  if (type !== 'application/json') {
    return refusal(415, 'The bench takes JSON here.', 'Send it as application/json.');
  }
  const bytes = await readBytes(request, limit);
  if (isRefusal(bytes)) return bytes;
  let value: unknown;
  try {
    value = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return refusal(400, 'What was sent is not JSON.', 'Reload the page and send it again.');
  }
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  const [first] = parsed.error.issues;
  if (first?.code === 'too_big' && first.path.at(-1) === 'text') {
    return refusal(
      413,
      `${sentence(first.message)}; this one is longer.`,
      'Send it in a few short messages; a photo can carry a longer page.',
    );
  }
  return refusal(
    400,
    first === undefined ? 'What was sent is in another form than expected.' : whatIsWrong(first),
    'Reload the page and send it again.',
  );
}

/** What is wrong with a body, in our own words: the schema library's are not for people. */
function whatIsWrong(issue: z.core.$ZodIssue): string {
  const part = issue.path.length === 0 ? 'what was sent' : `"${issue.path.join('.')}"`;
  switch (issue.code) {
    case 'invalid_type':
      return sentence(`${part} is missing or of another type than expected.`);
    case 'unrecognized_keys':
      return sentence(`"${issue.keys.join('", "').slice(0, 100)}" is not known here.`);
    case 'custom':
      return sentence(`${issue.message}.`);
    case 'invalid_format':
      return issue.message.startsWith('Invalid')
        ? sentence(`${part} is in another form than expected.`)
        : sentence(`${part} has to be ${issue.message}.`);
    default:
      return sentence(`${part} is in another form than expected.`);
  }
}

const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
