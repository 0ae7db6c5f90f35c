// The server's side of a WebSocket (RFC 6455), as little of it as Socket Mode uses: whole text frames, ping, pong, close.
import { createHash } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';

export type Socket = {
  readonly send: (text: string) => void;
  /** Ends the connection without a word, as a broken network does. */
  readonly cut: () => void;
  readonly open: () => boolean;
};

type Handlers = { readonly onText: (text: string) => void; readonly onClose: () => void };

const TEXT = 1;
const CLOSE = 8;
const PING = 9;
const PONG = 10;

const frame = (opcode: number, body: Buffer): Buffer => {
  const length = body.length;
  const head =
    length < 126
      ? Buffer.from([0x80 | opcode, length])
      : length < 65_536
        ? Buffer.from([0x80 | opcode, 126, length >> 8, length & 0xff])
        : Buffer.concat([Buffer.from([0x80 | opcode, 127]), eightBytes(length)]);
  return Buffer.concat([head, body]);
};

const eightBytes = (length: number): Buffer => {
  const bytes = Buffer.alloc(8);
  bytes.writeBigUInt64BE(BigInt(length));
  return bytes;
};

/** The first whole frame of what arrived, unmasked, and what is behind it. */
const firstFrame = (bytes: Buffer) => {
  if (bytes.length < 2) return undefined;
  const opcode = (bytes[0] ?? 0) & 0x0f;
  let length = (bytes[1] ?? 0) & 0x7f;
  let at = 2;
  if (length === 126) {
    if (bytes.length < 4) return undefined;
    length = bytes.readUInt16BE(2);
    at = 4;
  } else if (length === 127) {
    if (bytes.length < 10) return undefined;
    length = Number(bytes.readBigUInt64BE(2));
    at = 10;
  }
  if (bytes.length < at + 4 + length) return undefined;
  const mask = bytes.subarray(at, at + 4);
  const body = Buffer.from(bytes.subarray(at + 4, at + 4 + length));
  for (let index = 0; index < body.length; index += 1)
    body[index] = (body[index] ?? 0) ^ (mask[index % 4] ?? 0);
  return { opcode, body, rest: bytes.subarray(at + 4 + length) };
};

/** Takes an upgrade request over as a WebSocket. */
export const acceptSocket = (
  request: IncomingMessage,
  stream: Duplex,
  { onText, onClose }: Handlers,
): Socket => {
  const accept = createHash('sha1')
    .update(`${request.headers['sec-websocket-key']}258EAFA5-E914-47DA-95CA-C5AB0DC85B11`)
    .digest('base64');
  stream.write(
    `HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Accept: ${accept}\r\n\r\n`,
  );
  let open = true;
  let waiting: Buffer = Buffer.alloc(0);
  const end = (): void => {
    if (!open) return;
    open = false;
    onClose();
  };
  stream.on('data', (part: Buffer) => {
    waiting = Buffer.concat([waiting, part]);
    for (let next = firstFrame(waiting); next; next = firstFrame(waiting)) {
      waiting = next.rest;
      if (next.opcode === TEXT) onText(next.body.toString('utf8'));
      if (next.opcode === PING) stream.write(frame(PONG, next.body));
      if (next.opcode === CLOSE) {
        stream.end(frame(CLOSE, next.body.subarray(0, 2)));
        end();
      }
    }
  });
  stream.on('close', end);
  stream.on('error', end);
  return {
    send: (text) => {
      if (open) stream.write(frame(TEXT, Buffer.from(text)));
    },
    cut: () => {
      stream.destroy();
      end();
    },
    open: () => open,
  };
};
