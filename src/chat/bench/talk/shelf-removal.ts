// What a retention rule or a person's request takes out of a conversation that several processes share: they may be running,
// and read again what they have open.
import type { SharedShelf } from '../../../store/shared-shelf.ts';
import { changedText, namelessOf, wordlessBefore } from './removal.ts';

/**
 * Takes the words out of what was said and posted before a time; who spoke when stays.
 * @param before ISO
 * @param kept roots of the threads that are left alone
 * @returns the number of lines changed
 */
export const removeOldTalkOnShelf = (
  shelf: Pick<SharedShelf, 'rewriteLines'>,
  before: string,
  kept: ReadonlySet<string>,
): Promise<number> => {
  const change = changedText(wordlessBefore(before, kept));
  return shelf.rewriteLines(({ roll, body }) => (kept.has(roll) ? undefined : change(body)));
};

/** Takes a person's names out of everything said and posted. @returns the number of lines changed */
export const removePersonFromShelf = async (
  shelf: Pick<SharedShelf, 'rewriteLines' | 'rewriteHeld'>,
  names: readonly string[],
): Promise<number> => {
  const change = changedText(namelessOf(names));
  const held = await shelf.rewriteHeld(change);
  return held + (await shelf.rewriteLines(({ body }) => change(body)));
};
