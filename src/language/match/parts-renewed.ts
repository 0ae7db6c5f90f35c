// Which single-use parts a clause says to be new: "new gasket", "washers changed", "o-ring new", "alles neu".

import type { Step } from '../../../shared/plan.ts';
import type { Plan } from '../../job/plan.ts';
import type { Clause, Piece } from '../clause.ts';
import type { Tongue } from '../lexicon.ts';
import { MAY_NAME_PART } from '../thresholds.ts';
import type { Token } from '../tidy/token.ts';

const NEW =
  /^(new|fresh|neu|neue|neuer|neues|neuen|neuem|frisch|frische|frischer|frisches|frischen)$/;
const DENIED =
  /^(no|not|without|never|kein|keine|keinen|ohne|nicht|isnt|arent|like|almost|als|wie)$/;
const SMALL =
  /^(the|a|an|brand|set|of|all|six|both|one|ones|some|with|my|die|der|das|den|ein|eine|einen|set|satz)$/;

/** The words under which a part is known, each as its roots in one language. */
function namesOf(part: string, words: readonly string[], plan: Plan, tongue: Tongue): string[][] {
  const known = Object.entries(plan.parts ?? {}).find(
    ([name]) => name.toLowerCase() === part.toLowerCase(),
  );
  const also = known?.[1].also?.[tongue.pack.code]?.words ?? [];
  const all = [part, ...words, ...(known?.[1].words ?? []), ...also];
  return all.map((name) =>
    (name.toLowerCase().match(/[\p{L}\p{M}']+/gu) ?? []).flatMap((word) =>
      tongue.vocabulary.look(word, false).parts.map((one) => one.entry.root),
    ),
  );
}

/** How many words of the part's best name stand among the roots; 0 where its last word, which names it, does not. */
function wordsFound(
  names: readonly (readonly string[])[],
  roots: ReadonlySet<string>,
  compounds: boolean,
): number {
  let best = 0;
  for (const name of names) {
    const head = name.at(-1);
    if (head === undefined) continue;
    const named = roots.has(head) || (compounds && [...roots].some((root) => sameHead(root, head)));
    if (!named) continue;
    best = Math.max(best, 1, name.filter((root) => roots.has(root)).length);
  }
  return best;
}

/** "Dichtring" and "Wellendichtring": a compound is named by its end. */
const sameHead = (a: string, b: string): boolean =>
  Math.min(a.length, b.length) >= 4 && (a.endsWith(b) || b.endsWith(a));

const rootOf = (token: Token): string => token.entry?.root ?? token.word;

/** The noun behind "new", up to a mark, a place or a verb; where none is, the noun before it. */
function nounBy(piece: Piece, at: number, tongue: Tongue): { roots: Set<string>; behind: boolean } {
  const roots = new Set<string>();
  for (let i = at + 1; i < piece.to; i += 1) {
    const token = piece.tokens[i];
    if (!token || (token.kind === 'mark' && token.word !== '-')) break;
    const past = token.entry?.forms.includes('past') === true && token.entry.plan !== true;
    if (past || (roots.size > 0 && tongue.pack.prepositions.includes(token.word))) break;
    if (token.kind === 'word' && !SMALL.test(token.word)) roots.add(rootOf(token));
  }
  const named = [...roots].some((root) => tongue.partRoots.has(root) || piece.parts.has(root));
  if (named) return { roots, behind: true };
  const before = new Set<string>();
  for (let i = piece.from; i < at; i += 1) {
    const token = piece.tokens[i];
    if (token?.kind === 'word' && token.entry?.plan === true) before.add(rootOf(token));
  }
  return { roots: before, behind: false };
}

function saidNew(clause: Clause, tongue: Tongue): Set<string>[] {
  const out: Set<string>[] = [];
  for (const piece of clause.pieces) {
    for (let i = piece.from; i < piece.to; i += 1) {
      const word = piece.tokens[i]?.word ?? '';
      if (!NEW.test(word)) continue;
      if (DENIED.test(piece.tokens[i - 1]?.word ?? '')) continue;
      out.push(nounBy(piece, i, tongue).roots);
    }
    const renews = piece.verbs.some(
      (verb) => verb.form === 'past' && verb.classes.includes('renew'),
    );
    if (renews) {
      const named = [...piece.parts]
        .filter(([, value]) => value >= MAY_NAME_PART)
        .map(([root]) => root);
      out.push(new Set(named.length > 0 ? named : clause.inherited.keys()));
    }
  }
  return out;
}

/**
 * The parts of a step's `renew` that a clause says to be new, as the plan names them.
 *
 * @returns undefined where nothing is said to be new; empty where it is said of no named part ("all new")
 */
export function partsRenewed(
  step: Step | undefined,
  clause: Clause,
  plan: Plan,
  tongue: Tongue,
): string[] | undefined {
  const renew = step?.renew ?? [];
  if (renew.length === 0) return undefined;
  // "Old one back in", "washers reused" deny it, whatever else is new.
  const usedAgain = clause.pieces.some((piece) => {
    const words = piece.tokens.slice(piece.from, piece.to).map((token) => token.word);
    return words.some(
      (word, i) =>
        /^(reused|reusing|wiederverwendet)$/.test(word) ||
        (/^(old|used|same|alte|alten|alter|altes)$/.test(word) &&
          words.slice(i + 1, i + 4).some((next) => /^(back|again|in|on|wieder|rein)$/.test(next))),
    );
  });
  if (usedAgain) return undefined;
  const nouns = saidNew(clause, tongue);
  if (nouns.length === 0) return undefined;
  const names = renew.map((one) => namesOf(one.part, one.words ?? [], plan, tongue));
  const found = new Set<string>();
  let unnamed = false;
  for (const roots of nouns) {
    const fits = names.map((list) => wordsFound(list, roots, tongue.pack.verbLast === true));
    const best = Math.max(...fits);
    if (best > 0) {
      for (const [i, one] of renew.entries()) if (fits[i] === best) found.add(one.part);
    } else if (roots.size === 0) unnamed = true;
  }
  if (found.size > 0) return renew.map((one) => one.part).filter((part) => found.has(part));
  return unnamed ? [] : undefined;
}
