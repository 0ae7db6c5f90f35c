// The steps of a plan as phrases: a family of action and the words of a part. Made from titles, from the words a
// controller wrote, and from what a step asks to be reported.
import type { Step, Watched } from '../../../shared/plan.ts';
import type { Plan } from '../../job/plan.ts';
import type { ActionClass, LanguagePack } from '../pack.ts';
import type { Vocabulary } from '../tidy/vocabulary.ts';
import { kinship } from './kinship.ts';
import { type Wording, wordings, wordsIn } from './wordings.ts';

export type Phrase = {
  readonly classes: readonly ActionClass[];
  readonly lemmas: readonly string[];
  /** Root of each word of the part, with 1 for the part itself and less for what it stands at or on. */
  readonly parts: ReadonlyMap<string, number>;
  readonly words: readonly string[];
  /** Roots of the words that carry meaning, for finding the phrase again with small words between. */
  readonly roots: readonly string[];
  /** Has a verb in the past, a particle or a state: said alone it is a report. */
  readonly reports: boolean;
  /** The word that names the part: the nut in "hub nut". */
  readonly head: string | undefined;
  readonly from: 'title' | 'words' | 'report';
  /** None of its families is kin to the title's: other words of the family do not mean the step. */
  readonly byLetter?: true;
};

export type StepPhrases = {
  readonly id: string;
  readonly title: string;
  readonly step?: Step;
  readonly watched?: Watched;
  readonly phrases: readonly Phrase[];
};

/** Every step and watched act of the plan with its phrases in one language. */
export function makePhrases(plan: Plan, pack: LanguagePack, vocabulary: Vocabulary): StepPhrases[] {
  const made = (item: Step | Watched) => {
    const phrases = wordings(item, plan, pack).map((wording) =>
      phraseOf(wording, pack, vocabulary),
    );
    const title = phrases
      .filter((phrase) => phrase.from === 'title')
      .flatMap((phrase) => phrase.classes);
    return phrases.map((phrase) => (phrase.from === 'words' ? keepKin(phrase, title) : phrase));
  };
  return [
    ...plan.steps.map((step) => ({ id: step.id, title: step.title, step, phrases: made(step) })),
    ...(plan.watched ?? []).map((watched) => ({
      id: watched.id,
      title: watched.title,
      watched,
      phrases: made(watched),
    })),
  ];
}

/**
 * Of the families a controller's words may mean, those that are kin to the title's; all where none is: then "rail down"
 * for relieving it says so by its letter alone.
 */
function keepKin(phrase: Phrase, title: readonly ActionClass[]): Phrase {
  const kin = phrase.classes.filter((one) => title.some((other) => kinship(one, other) >= 0.5));
  if (kin.length > 0) return { ...phrase, classes: kin };
  return title.length > 0 && phrase.classes.length > 0 ? { ...phrase, byLetter: true } : phrase;
}

const SECOND_PLACE = 0.45;

function phraseOf(wording: Wording, pack: LanguagePack, vocabulary: Vocabulary): Phrase {
  const tokens = wordsIn(wording.text).flatMap((word) => vocabulary.look(word, false).parts);
  const classes: ActionClass[] = [...(wording.classes ?? [])];
  const lemmas: string[] = [];
  const parts = new Map<string, number>();
  let head: string | undefined;
  const words = tokens.map((token) => token.word);
  let weight = 1;
  let verbs = 0;
  tokens.forEach(({ word, entry }, index) => {
    const forms = entry.forms;
    const before = words[index - 1];
    const next = tokens[index + 1];
    const nounLeads =
      wording.from === 'words' &&
      next !== undefined &&
      (pack.particles[next.word] !== undefined ||
        pack.states[next.word] !== undefined ||
        next.entry.forms.includes('past'));
    const leads =
      (index === 0 && !nounLeads) ||
      (pack.verbLast === true && forms.includes('base') && word.endsWith('n')) ||
      ((before === 'and' || before === 'und') && verbs > 0 && index < tokens.length - 1);
    const moved =
      forms.includes('past') && !(forms.includes('base') && index === 0 && tokens.length === 1);
    const verb =
      forms.length > 0 &&
      ((leads && forms.includes('base') && wording.from !== 'report' && tokens.length > 1) ||
        moved ||
        (forms.includes('ing') && index === 0 && wording.from !== 'report'));
    if (verb) {
      verbs += 1;
      const pair =
        entry.lemma === undefined
          ? undefined
          : pack.phrasal[`${entry.lemma} ${words[index + 1] ?? ''}`];
      classes.push(
        ...(pair === undefined ? entry.classes : typeof pair === 'string' ? [pair] : pair),
      );
      if (entry.lemma !== undefined) lemmas.push(entry.lemma);
      if (entry.plan && !leads) parts.set(entry.root, 0.5);
      return;
    }
    const particle = pack.particles[word];
    if (
      particle &&
      index > 0 &&
      index === tokens.length - 1 &&
      verbs === 0 &&
      wording.from === 'words'
    ) {
      classes.push(...particle);
      return;
    }
    const state = pack.states[word];
    if (state && wording.from === 'words' && index > 0 && !entry.plan) {
      classes.push(...state);
      return;
    }
    if (pack.prepositions.includes(word) && parts.size > 0) {
      weight = SECOND_PLACE;
      return;
    }
    if (entry.stop || (entry.side !== undefined && !entry.plan) || word.length < 2) return;
    if (entry.plan) {
      parts.set(entry.root, Math.max(weight, parts.get(entry.root) ?? 0));
      if (weight === 1) head = entry.root;
    }
    if (forms.includes('base') && wording.from !== 'report') {
      // A noun that is also a verb, such as the check in "leak check", says the family of the step.
      if (verbs === 0 && index === tokens.length - 1) classes.push(...entry.classes);
    }
  });
  const reports =
    wording.from === 'words' &&
    tokens.some(
      ({ word, entry }) =>
        pack.particles[word] !== undefined ||
        pack.states[word] !== undefined ||
        entry.forms.includes('past') ||
        (entry.forms.includes('ing') && !entry.plan) ||
        word === 'no',
    );
  const roots = tokens
    .filter(
      ({ word, entry }) =>
        !entry.stop || pack.particles[word] !== undefined || word === 'no' || word === 'not',
    )
    .map(({ entry }) => entry.root);
  return {
    classes: [...new Set(classes)],
    lemmas,
    parts,
    words,
    roots,
    reports,
    head,
    from: wording.from,
  };
}
