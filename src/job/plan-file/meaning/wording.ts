// Wording that two steps both claim: a message with only these words would have to be asked about.
import type { DraftStep, DraftWatched } from '../draft.ts';
import type { Path } from '../place.ts';
import type { MeaningRule } from '../survey.ts';

/** Words that tell no step from another. */
const FILLERS = new Set(['the', 'a', 'an', 'and', 'of', 'to', 'in', 'on', 'at', 'for', 'with']);

type Claim = { readonly at: Path; readonly words: string; readonly key: string };

export const wording: MeaningRule = (survey, say) => {
  const first = new Map<string, { readonly id: string; readonly claim: Claim }>();
  for (const { at, it, id } of [...survey.steps, ...survey.watched]) {
    for (const claim of claims(it, at)) {
      const other = first.get(claim.key);
      if (!other) first.set(claim.key, { id, claim });
      else if (other.id !== id) {
        say(
          claim.at,
          {
            what: `"${claim.words}" is claimed by "${id}" and by "${other.id}".`,
            expected: 'Words that mean one step, so that a message needs no question.',
            mend: 'Add a word that tells the two apart, such as the part or the side.',
          },
          'warning',
        );
      }
    }
  }
};

/** The title and words of a step, in every language, each as the set of words that count. */
function claims(it: DraftStep | DraftWatched, at: Path): Claim[] {
  const all: { at: Path; words: string; language: string }[] = [];
  if (it.title !== undefined) all.push({ at: [...at, 'title'], words: it.title, language: '' });
  for (const [n, words] of (it.words ?? []).entries()) {
    if (words !== undefined) all.push({ at: [...at, 'words', n], words, language: '' });
  }
  for (const [language, also] of Object.entries(it.also ?? {})) {
    const place = [...at, 'also', language];
    if (also?.title !== undefined)
      all.push({ at: [...place, 'title'], words: also.title, language });
    for (const [n, words] of (also?.words ?? []).entries()) {
      if (words !== undefined) all.push({ at: [...place, 'words', n], words, language });
    }
  }
  return all.flatMap(({ at: place, words, language }) => {
    const key = bareWords(words);
    return key === '' ? [] : [{ at: place, words: words.trim(), key: `${language}:${key}` }];
  });
}

function bareWords(text: string): string {
  const words = text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '' && !FILLERS.has(word));
  return [...new Set(words)].sort().join(' ');
}
