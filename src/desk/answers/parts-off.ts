// Where the removed parts are: what came off and is not back on, with the place its report named.
import type { JobEvent } from '../../../shared/event.ts';
import type { JobView, StepProgress } from '../../job/view.ts';
import { list, positionsTogether } from '../say.ts';
import { messagesOf } from '../turn/log.ts';

const REMOVES =
  /^(?:remove|take|draw|lift|pull|withdraw|drop|unbolt|disconnect|strip|ausbauen|abnehmen)\b|(?:ausbauen|abnehmen|abziehen)$/iu;

/**
 * A place in a workshop: on the bench, in the blue tray, tied up to the frame. Words of our own; what is not among them
 * is called "place not said", never guessed.
 */
const PLACE =
  /\b(?:(?:on|in|under|behind|by|beside|at|inside|auf|in|unter|im|am)\s+(?:(?:the|a|my|his|her|our|der|die|dem|den|das)\s+)?(?:[\p{L}\d'-]+\s+){0,3}?(?:benche?s?|shel(?:f|ves)|racks?|trays?|box(?:es)?|crates?|bins?|drums?|pallets?|cages?|trolleys?|trolly|floor|stores?|cupboard|table|bags?|tubs?|buckets?|bay\s*\w+|cab|parts washer|washer|stand|regal|kiste|werkbank|bank|wanne|palette|lager)(?:\s+(?:no\.?\s*)?\d{1,3})?(?:\s+(?:in|on|under|by)\s+(?:the\s+)?(?:[\p{L}\d'-]+\s+){0,2}?(?:bench|tray|shelf|rack|bay\s*\w+|box|store))?|(?:tied|hung|wired|propped)\s+up(?:\s+(?:to|on|from)\s+(?:the\s+)?[\p{L}-]+)?)\b/iu;

/** "on the bench in the blue tray", of a message; undefined where it names no place. */
export const placeSaid = (text: string): string | undefined =>
  PLACE.exec(text)?.[0].replace(/\s+/gu, ' ');

/** Whether words are a place and nothing else: "in tray 3" says where a part is, not that it went back in. */
export const isPlaceOnly = (text: string): boolean => {
  const bare = text
    .replace(/[’`]/gu, "'")
    .replace(/^[\s,;.:-]+|[\s,;.!]+$/gu, '')
    .replace(
      /^(?:(?:and|now|all|it's|its|it is|they're|they are|is|are|put|left|stored)\s+)+/iu,
      '',
    );
  return bare !== '' && placeSaid(bare)?.length === bare.replace(/\s+/gu, ' ').length;
};

/** Parts of the plan that a title names, longest first, so that "hose clip" is no "hose". */
const partsIn = (view: JobView, title: string): readonly string[] => {
  const names = Object.keys(view.plan.parts ?? {}).sort((a, b) => b.length - a.length);
  let left = title.toLowerCase();
  const found: string[] = [];
  for (const name of names) {
    const pattern = new RegExp(`\\b${name.toLowerCase().replace(/[^\p{L}\d]+/gu, '.')}s?\\b`, 'u');
    if (!pattern.test(left)) continue;
    found.push(name);
    left = left.replace(pattern, ' ');
  }
  return found;
};

/** Whether something that goes back on names the part and is done, at the same position where both have one. */
const isBack = (view: JobView, part: string, off: StepProgress): boolean =>
  view.steps.some(
    ({ step, position, state }) =>
      state === 'done' &&
      step !== off.step &&
      view.plan.stepById.get(step)?.phase === 'refit' &&
      (position === null || off.position === null || position === off.position) &&
      partsIn(view, view.plan.stepById.get(step)?.title ?? '').includes(part),
  );

/** One phrase for each part that is off: "coolant pump: on the bench", "hose clip: place not said". */
export const partsOff = (view: JobView, events: readonly JobEvent[]): readonly string[] => {
  const texts = new Map(
    messagesOf(events)
      .filter(({ deleted }) => !deleted)
      .map(({ message, text }) => [message, text]),
  );
  const off = new Map<string, { readonly part: string; places: string[]; positions: string[] }>();
  for (const progress of view.steps) {
    const step = view.plan.stepById.get(progress.step);
    // One that was not counted yet is off all the same.
    const gone = progress.state === 'done' || progress.state === 'partial';
    if (!gone || !step || !REMOVES.test(step.title)) continue;
    const place = progress.messages
      .map((message) => placeSaid(texts.get(message) ?? ''))
      .findLast((each) => each !== undefined);
    for (const part of partsIn(view, step.title)) {
      if (isBack(view, part, progress)) continue;
      const key = `${part}|${place ?? ''}`;
      const known = off.get(key) ?? { part, places: place ? [place] : [], positions: [] };
      if (progress.position !== null) known.positions.push(progress.position);
      off.set(key, known);
    }
  }
  return [...off.values()].map(({ part, places, positions }) => {
    const at = positions.length > 0 ? ` (${positionsTogether(positions)})` : '';
    return `${part}${at}: ${places.length > 0 ? list(places) : 'place not said'}`;
  });
};
