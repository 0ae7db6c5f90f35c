// "D2 04 1F 01": a trouble code in its bytes.
import { explainTroubleCode } from '../../../trade/trouble-code.ts';
import {
  type ConversionMethod,
  readHeavyBytes,
  readLightBytes,
} from '../../../trade/trouble-code-bytes.ts';
import type { Asked } from '../asking/asked.ts';
import { answerOf, figureKind, means, type Read, stopped } from '../figure-kind.ts';

export type BytesInputs = { readonly bytes: readonly number[]; readonly method?: ConversionMethod };

const BYTES = /(?<![\p{L}\d])(?:0x)?[0-9a-f]{2}(?:[\s,]+(?:0x)?[0-9a-f]{2})+(?![\p{L}\d])/u;
const LEAD = /\b(?:bytes?|hex|dm1|dm2|can frame)\b/;
const METHOD = /\b(?:version|method|cm|methode)\s*([1-4])\b/;

export const troubleBytes = figureKind<BytesInputs>({
  kind: 'trouble-bytes',
  means: 'a trouble code from its bytes',
  examples: [
    { type: 'D2 04 1F 01', means: { bytes: [0xd2, 0x04, 0x1f, 0x01] } },
    { type: 'bytes 90 02 05 03', means: { bytes: [0x90, 0x02, 0x05, 0x03] } },
    {
      type: 'dm1 bytes D2 04 1F 81 version 3',
      means: { bytes: [0xd2, 0x04, 0x1f, 0x81], method: 3 },
    },
    { type: 'what code is bytes 02 03', means: { bytes: [0x02, 0x03] } },
  ],
  read,
  answer: ({ bytes, method }) => {
    if (bytes.length !== 2) return answerOf(readHeavyBytes(bytes, method));
    const light = readLightBytes(bytes);
    if (!light.ok) return stopped(light.problem);
    return {
      says:
        light.value === null
          ? 'No trouble code: 00 00 is an empty place.'
          : explainTroubleCode(light.value),
    };
  },
});

function read(asked: Asked): Read<BytesInputs> {
  const methodText = METHOD.exec(asked.plain);
  const plain = methodText ? asked.plain.replace(methodText[0], ' ') : asked.plain;
  const found = BYTES.exec(plain)?.[0];
  if (found === undefined) return undefined;
  const bytes = found.split(/[\s,]+/).map((two) => Number.parseInt(two.replace(/^0x/, ''), 16));
  const lead = LEAD.test(plain);
  // Four pairs of digits alone may be anything; with a letter among them they are bytes.
  const bare = bytes.length === 4 && found === plain && /[a-f]/.test(found) && /\d/.test(found);
  if (!lead && !bare) return undefined;
  if (asked.reports && !asked.question) return undefined;
  const method = methodText?.[1];
  return means({
    bytes,
    ...(method === undefined ? {} : { method: Number(method) as ConversionMethod }),
  });
}
