// One piece: its verbs, words of parts, figures and signs.
import type { Piece, VerbHit } from '../clause.ts';
import type { Cue } from '../cue-table.ts';
import type { Tongue } from '../lexicon.ts';
import type { ActionClass } from '../pack.ts';
import type { Figure } from '../scan/figure.ts';
import type { Token } from '../tidy/token.ts';
import { laidIn } from './laid-aside.ts';
import { isStrangerTelling, lastReport } from './last-report.ts';
import {
  behindPlace,
  behindWith,
  counted,
  goesHome,
  isAttribute,
  leftOver,
  ofSomethingElse,
} from './nouns.ts';
import { exceptions, isDenied, isNumberSign, nameOnly } from './own-signs.ts';
import { particles } from './particles.ts';
import { CROSS, TICKS } from './signs.ts';
import {
  isLead,
  isToldOf,
  nounHere,
  toldAsPresent,
  wasSo,
  withoutPrefixes,
  withParticle,
} from './verb-forms.ts';

const inTime = (cue: Cue, figures: readonly Figure[]): boolean =>
  figures.some(
    (figure) => figure.kind === 'time' && figure.from <= cue.from && cue.to <= figure.to,
  );

/** Whether a sign that says something takes in a place. */
const inSign = (i: number, cues: readonly Cue[]): boolean =>
  cues.some(
    (cue) => cue.from <= i && i < cue.to && cue.name !== 'conjunction' && cue.name !== 'good',
  );

/** Behind these stands a thing: "hanging from hooks". */
const AFTER_THING = /^(from|of|the|a|an|with|by|under|my|some|two|no)$/;

export function pieceOf(
  tokens: readonly Token[],
  from: number,
  to: number,
  figures: readonly Figure[],
  cues: readonly Cue[],
  inFigure: Uint8Array,
  tongue: Tongue,
  joint: string,
  question: boolean,
  shout: boolean,
): Piece {
  const pack = tongue.pack;
  const verbs: VerbHit[] = [];
  const moved: ActionClass[] = [];
  const parts = new Map<string, number>();
  const unknown: string[] = [];
  const strangers: number[] = [];
  const particleAt: number[] = [];
  /** Verbs that say nothing of the work, with a prefix that may stand apart: "fange mit der Pumpe an". */
  const light: { at: number; lemma: string }[] = [];
  let tick = false;
  let cross = false;
  const laid = laidIn(tokens, from, to, pack);
  const inside = cues.filter(
    (cue) =>
      cue.from >= from &&
      cue.to <= to &&
      !(
        cue.name === 'other-vehicle' && laid.some((one) => one.from <= cue.from && cue.to <= one.to)
      ) &&
      !(tongue.pack.verbLast && inTime(cue, figures)) &&
      !(cue.name === 'no' && isNumberSign(tokens, cue)),
  );
  const leftOut = inside.filter(
    (cue) =>
      cue.name === 'except' &&
      figures.some(
        (figure) =>
          figure.kind === 'positions' && figure.from >= cue.to && figure.from - cue.to <= 1,
      ),
  );
  for (let i = from; i < to; i += 1) {
    const token = tokens[i] as Token;
    if (leftOut.some((cue) => cue.from <= i && i < cue.to)) continue;
    if (token.kind === 'sign' && TICKS.test(token.word)) tick = true;
    if (token.kind === 'sign' && CROSS.test(token.word)) cross = true;
    if (token.kind !== 'word') continue;
    const entry = token.entry;
    if (!entry) continue;
    if (inFigure[i]) {
      if (entry.plan && entry.side === undefined && !pack.positionNouns.includes(entry.root))
        parts.set(entry.root, 0.5);
      else if (entry.plan) parts.set(entry.root, parts.get(entry.root) ?? 0.2);
      continue;
    }
    if (pack.particles[token.word] && !entry.plan) {
      // The out of "carried out" moves nothing.
      const called = inside.some((cue) => cue.name === 'finished' && cue.from < i && i < cue.to);
      if (!called) particleAt.push(i);
      continue;
    }
    const noun = entry.plan && (tokens[i + 1]?.entry?.plan ?? false) && entry.forms.includes('ing');
    // "After the run", "a second set": behind an article it is a noun.
    const named =
      entry.forms.includes('base') && /^(the|a|an|my|its|his)$/.test(tokens[i - 1]?.word ?? '');
    const past = entry.forms.includes('past') && !(named && !pack.verbLast);
    const base = entry.forms.includes('base') && !(entry.plan && nounHere(tokens, i, from));
    if (
      entry.forms.length > 0 &&
      !noun &&
      (past ||
        entry.forms.includes('ing') ||
        base ||
        (entry.forms.includes('third') &&
          !entry.plan &&
          !(i > from && AFTER_THING.test(tokens[i - 1]?.word ?? ''))))
    ) {
      const leads = verbs.length === 0 && isLead(tokens, i, from, pack.pronouns);
      const asVerb = past || entry.forms.includes('ing') || !entry.plan || leads;
      const classes = withParticle(
        tokens,
        i,
        to,
        entry.lemma ?? entry.root,
        entry.classes,
        pack.phrasal,
        pack.verbLast ? 30 : 5,
      );
      // "steckt", "kommt" without their prefix say nothing of the work.
      const order = entry.forms.includes('base') && token.word.endsWith('n') && i === to - 1;
      if (pack.verbLast && classes.length === 0 && !entry.plan && !order) {
        moved.push(...(pack.states[token.word] ?? []));
        light.push({ at: i, lemma: entry.lemma ?? entry.root });
        continue;
      }
      const told =
        base && !past && (parts.size > 0 || figures.some((f) => f.from >= from && f.to <= i))
          ? toldAsPresent(tokens, i, from, to, inside)
          : undefined;
      if (asVerb) {
        verbs.push({
          at: i,
          lemma: entry.lemma ?? entry.root,
          classes,
          form:
            told ??
            ((past && !(base && leads && i === from)) ||
            (base && /^(is|are|was|were|am|has|have)$/.test(tokens[i - 1]?.word ?? ''))
              ? 'past'
              : entry.forms.includes('ing')
                ? 'ing'
                : base
                  ? 'base'
                  : 'third'),
          maybeNoun: base && entry.plan && told === undefined,
        });
      }
      if (entry.plan && !(leads && !past)) parts.set(entry.root, 1);
      else if (
        past &&
        entry.lemma !== undefined &&
        !tongue.common.has(entry.lemma) &&
        tongue.partRoots.has(entry.lemma)
      )
        parts.set(entry.lemma, Math.max(0.3, parts.get(entry.lemma) ?? 0));

      if (!asVerb && base && !leads && !(i === from && isToldOf(tokens, i))) {
        verbs.push({
          at: i,
          lemma: entry.lemma ?? entry.root,
          classes: entry.classes,
          form: 'base',
          maybeNoun: true,
        });
      }
      continue;
    }
    if (
      entry.side &&
      !entry.plan &&
      /^(front|rear|left)$/.test(token.word) &&
      !entry.side.some((side) => tongue.scan.sidesOfPlan?.has(side)) &&
      !(token.word === 'left' && leftOver(tokens, i))
    )
      unknown.push(token.word);
    if (entry.plan && entry.side === undefined && ofSomethingElse(tokens, i, from, inFigure, pack))
      unknown.push(tokens[i - 1]?.word ?? '', token.word);
    else if (entry.plan)
      parts.set(
        entry.root,
        entry.side !== undefined
          ? 0.4
          : behindPlace(tokens, i, from, parts.size) ||
              (parts.size > 0 && behindWith(tokens, i, from))
            ? 0.45
            : parts.size > 0 && counted(tokens, i, inFigure)
              ? 0.35
              : 1,
      );
    else if (inside.some((cue) => cue.name === 'cannot' && cue.from <= i && i < cue.to)) continue;
    // "war fest wie Beton" tells how it was before.
    else if (pack.verbLast && wasSo(tokens, i, from, to, pack.states[token.word])) continue;
    else if (pack.states[token.word] && !isAttribute(tokens, i) && !goesHome(tokens, i))
      moved.push(...(pack.states[token.word] ?? []));
    else if (
      !entry.stop &&
      !entry.known &&
      !inSign(i, inside) &&
      token.word.length > 2 &&
      !laid.some((one) => one.from <= i && i < one.to)
    ) {
      unknown.push(token.word);
      if (shout || !(token.capital && i === from)) strangers.push(i);
    }
  }
  const alone = pack.verbLast
    ? withoutPrefixes(tokens, particleAt, [...verbs, ...light], pack)
    : particleAt;
  particles(tokens, alone, verbs, from, to, tongue, moved, inFigure, inside, figures);
  const told = verbs.some((verb) => verb.form === 'past');
  const own = figures.filter((figure) => figure.from >= from && figure.to <= to);
  const { excepted, signs } = exceptions(own, inside, verbs, moved, from);
  return {
    from,
    to,
    tokens,
    verbs,
    moved,
    parts,
    unknown,
    strangerBefore: isStrangerTelling(
      strangers,
      parts.size > 0 ? from : -1,
      lastReport(tokens, from, to, verbs, pack),
    ),
    figures: own.filter((figure) => !excepted.includes(figure)),
    excepted,
    cues: inside.filter(
      (cue) =>
        !signs.some((sign) => sign.from <= cue.from && cue.to <= sign.to) &&
        (isDenied(cue, inside) ||
          !nameOnly(
            cue,
            tokens,
            told || own.some((figure) => /^(quantity|number)$/.test(figure.kind)),
          )),
    ),
    joint,
    tick,
    cross,
    question,
  };
}
