// Times said: "at 10:40", "0930", "half ten", "20 min ago", "half an hour ago", "yesterday", "before dinner".
// A bare figure is a time only behind a word of time: "at 8 Nm" is a torque.
import type { Token } from '../tidy/token.ts';
import type { ClockTime, Hit, ScanWords } from './figure.ts';
import { unitAt } from './unit.ts';

const AT = new Set(['at', '@', 'by', 'since', 'around', 'um', 'seit', 'gegen']);
const number = (token: Token | undefined) => (token?.kind === 'number' ? token.value : undefined);

/** Reads a time. */
export function time(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const word = tokens[i]?.word ?? '';
  if (word === 'yesterday' || word === 'gestern') {
    const at = AT.has(tokens[i + 1]?.word ?? '') ? i + 1 : i;
    const clock = clockAt(tokens, at + 1, words, at > i);
    if (clock)
      return { body: { kind: 'time', yesterday: true, clock: clock.clock }, next: clock.next };
    return { body: { kind: 'time', yesterday: true }, next: i + 1 };
  }
  const ago = agoAt(tokens, i, words);
  if (ago) return ago;
  const moment = momentAt(tokens, i, words);
  if (moment) return moment;
  const cue = AT.has(word);
  const clock = clockAt(tokens, cue ? i + 1 : i, words, cue, i === 0);
  if (!clock) return undefined;
  const yesterday = tokens[clock.next]?.word === 'yesterday';
  return {
    body: { kind: 'time', clock: clock.clock, ...(yesterday ? { yesterday } : {}) },
    next: clock.next + (yesterday ? 1 : 0),
  };
}

function clockAt(
  tokens: readonly Token[],
  i: number,
  words: ScanWords,
  cue: boolean,
  atStart = false,
): { clock: ClockTime; next: number } | undefined {
  const token = tokens[i];
  if (!token) return undefined;
  const spoken = spokenClock(tokens, i);
  if (spoken) return spoken;
  if (token.kind === 'code') {
    const hm = /^(\d{1,2})h(\d{2})$/.exec(token.word);
    if (!hm || !cue) return undefined;
    return made(Number(hm[1]), Number(hm[2]), false, i + 1);
  }
  const value = number(token);
  if (value === undefined) return undefined;
  const digits = words.raw.slice(token.from, token.to);
  if (tokens[i + 1]?.word === ':' && tokens[i + 1]?.glued && tokens[i + 2]?.glued) {
    const minutes = words.raw.slice(tokens[i + 2]?.from, tokens[i + 2]?.to);
    if (!/^\d{2}$/.test(minutes)) return undefined;
    return halves(made(value, Number(minutes), digits.length < 2, i + 3), tokens);
  }
  if (unitAt(tokens, i + 1, words)) {
    if (!(cue && tokens[i + 1]?.word === 'h')) return undefined;
  }
  const half = /^(am|pm|oclock|o'clock|uhr)$/.test(tokens[i + 1]?.word ?? '');
  if (half && Number.isInteger(value) && value <= 24)
    return halves(made(value, 0, value < 13, i + 1), tokens);
  const dotted = /^(\d{1,2})[.](\d{2})$/.exec(digits);
  if (dotted && cue)
    return halves(
      made(Number(dotted[1]), Number(dotted[2]), Number(dotted[1]) < 13, i + 1),
      tokens,
    );
  if (/^\d{4}$/.test(digits) && !words.jobs.has(digits))
    return fourDigits(tokens, i, digits, cue, atStart, words);
  const minutes = number(tokens[i + 1]);
  if (
    cue &&
    tokens[i - 1]?.word === 'at' &&
    value >= 1 &&
    value <= 23 &&
    minutes !== undefined &&
    minutes >= 10 &&
    minutes < 60 &&
    Number.isInteger(minutes) &&
    !unitAt(tokens, i + 2, words)
  ) {
    return made(value, minutes, value < 13, i + 2);
  }
  if (cue && tokens[i - 1]?.word !== '@' && Number.isInteger(value) && value >= 1 && value <= 12) {
    const next = tokens[i + 1];
    if (next && next.kind === 'word' && next.entry?.plan) return undefined;
    if (next && /^(and|-|,|to|of|&|\/)$/.test(next.word) && tokens[i + 2]?.kind === 'number')
      return undefined;
    if (tokens[i - 1]?.word === 'by' || tokens[i - 1]?.word === 'around') return undefined;
    return made(value, 0, true, i + 1);
  }
  return undefined;
}

/** Four digits need a cue, or stand first in a message and inside the working day. */
function fourDigits(
  tokens: readonly Token[],
  i: number,
  digits: string,
  cue: boolean,
  atStart: boolean,
  words: ScanWords,
) {
  const [hour, minute] = [Number(digits.slice(0, 2)), Number(digits.slice(2))];
  if (hour > 23 || minute > 59) return undefined;
  const hours = /^(hrs|hours|h|uhr|start)$/.test(tokens[i + 1]?.word ?? '');
  const last = tokens[i + 1] === undefined && i > 0 && minute % 5 === 0 && hour >= 5 && hour < 20;
  const posted = words.postedAt;
  const since = posted === undefined ? undefined : posted - (hour * 60 + minute);
  const likely =
    since === undefined ? minute % 5 === 0 && hour >= 5 && hour < 20 : since >= -10 && since <= 720;
  const first = atStart && tokens.length > 1 && likely;
  if (!cue && !hours && !first && !last) return undefined;
  return made(hour, minute, false, i + (hours && tokens[i + 1]?.word !== 'start' ? 2 : 1));
}

const WAYS: ReadonlySet<string> = new Set(['past', 'nach', 'to', 'vor']);

/** An hour of the twelve-hour clock in words or figures. */
function hourAt(tokens: readonly Token[], k: number): number | undefined {
  const value = number(tokens[k]) ?? (tokens[k]?.word === 'one' ? 1 : undefined);
  return value !== undefined && Number.isInteger(value) && value >= 1 && value <= 12
    ? value
    : undefined;
}

function spokenClock(
  tokens: readonly Token[],
  i: number,
): { clock: ClockTime; next: number } | undefined {
  const word = tokens[i]?.word ?? '';
  if (word === 'half') {
    const past = tokens[i + 1]?.word === 'past';
    const hour = hourAt(tokens, past ? i + 2 : i + 1);
    const next = i + (past ? 3 : 2);
    if (
      hour === undefined ||
      (!past && tokens[next]?.kind === 'word' && /^(of|the)$/.test(tokens[next]?.word ?? ''))
    )
      return undefined;
    return made(hour, 30, true, next);
  }
  if (word === 'halb') {
    const hour = hourAt(tokens, i + 1);
    return hour === undefined ? undefined : made(hour === 1 ? 12 : hour - 1, 30, true, i + 2);
  }
  const minutes = word === 'quarter' || word === 'viertel' ? 15 : number(tokens[i]);
  const way = tokens[i + 1]?.word;
  if (minutes === undefined || !WAYS.has(way ?? '')) return undefined;
  const hour = hourAt(tokens, i + 2);
  if (minutes === undefined || hour === undefined) return undefined;
  const isQuarter = word === 'quarter' || word === 'viertel';
  if ((way === 'past' || way === 'nach') && minutes < 60) return made(hour, minutes, true, i + 3);
  if ((way === 'to' || way === 'vor') && isQuarter)
    return made(hour === 1 ? 12 : hour - 1, 60 - minutes, true, i + 3);
  return undefined;
}

const made = (hour: number, minute: number, twelve: boolean, next: number) =>
  hour <= 24 && minute < 60
    ? { clock: { hour: hour % 24, minute, twelve: twelve && hour <= 12 }, next }
    : undefined;

function halves(
  clock: { clock: ClockTime; next: number } | undefined,
  tokens: readonly Token[],
): { clock: ClockTime; next: number } | undefined {
  if (!clock) return undefined;
  const word = tokens[clock.next]?.word ?? '';
  const { hour, minute } = clock.clock;
  if (word === 'pm')
    return {
      clock: { hour: hour < 12 ? hour + 12 : hour, minute, twelve: false },
      next: clock.next + 1,
    };
  if (word === 'am')
    return { clock: { hour: hour % 12, minute, twelve: false }, next: clock.next + 1 };
  if (/^(oclock|o'clock)$/.test(word)) return { clock: clock.clock, next: clock.next + 1 };
  if (word === 'uhr') return { clock: { hour, minute, twelve: false }, next: clock.next + 1 };
  return clock;
}

function agoAt(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const german = tokens[i]?.word === 'vor';
  const start = german ? i + 1 : i;
  let at = start;
  let value = number(tokens[at]);
  if (value !== undefined) at += 1;
  else if (/^(half|halben)$/.test(tokens[at]?.word ?? '')) {
    value = 0.5;
    at += 1;
    if (/^(a|an)$/.test(tokens[at]?.word ?? '')) at += 1;
  } else if (/^(a|an|one|einer|einem)$/.test(tokens[at]?.word ?? '')) {
    value = 1;
    at += 1;
    if (/^(halben)$/.test(tokens[at]?.word ?? '')) {
      value = 0.5;
      at += 1;
    }
  } else return undefined;
  const unit = unitAt(tokens, at, words);
  const minutes = unit?.unit === 'min' ? 1 : unit?.unit === 'h' ? 60 : undefined;
  if (!unit || minutes === undefined) return undefined;
  const ago = tokens[unit.next]?.word;
  if (german) return { body: { kind: 'time', minutesAgo: value * minutes }, next: unit.next };
  if (ago !== 'ago' && !(ago === 'back' && tokens[unit.next + 1] === undefined)) return undefined;
  return { body: { kind: 'time', minutesAgo: value * minutes }, next: unit.next + 1 };
}

function momentAt(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  if (!/^(before|at|vor|during)$/.test(tokens[i]?.word ?? '')) return undefined;
  const at = /^(the|my|our)$/.test(tokens[i + 1]?.word ?? '') ? i + 2 : i + 1;
  const word = tokens[at]?.word ?? '';
  if (!words.moments.has(word)) return undefined;
  return { body: { kind: 'time', moment: word }, next: at + 1 };
}
