// German as it is written in workshops. Left is the driver's side: the pack is made for vehicles that drive on the
// right.
import { bareTables } from '../../bare-tables.ts';
import type { CueName, LanguagePack } from '../../pack.ts';
import { commands, figurePhrases, limitPhrases } from './commands.ts';
import { cuesAsWritten } from './cues.ts';
import { forms, root } from './forms.ts';
import { held } from './held.ts';
import { nouns } from './nouns.ts';
import { letters, numbers, ordinals, positionNouns, sides, stageNouns, units } from './numbers.ts';
import { sameThing } from './same-thing.ts';
import { usualWords } from './usual-words.ts';
import { adverbs, particles, phrasal, states, verbs } from './verbs.ts';
import {
  abbreviations,
  auxiliaries,
  common,
  contractions,
  prepositions,
  pronouns,
  soundAlikes,
  stop,
} from './words.ts';

const words = (text: string) => text.split(' ');

/** A phrase with its small words opened, as messages are. */
const opened = (phrase: string) =>
  phrase
    .split(' ')
    .map((word) => contractions[word] ?? word)
    .join(' ');

const cues = Object.fromEntries(
  Object.entries(cuesAsWritten).map(([name, text]) => [
    name,
    [...new Set(text.split('|').map(opened))],
  ]),
) as Readonly<Partial<Record<CueName, readonly string[]>>>;

export const german: LanguagePack = bareTables({
  code: 'de',
  marks: words(
    'der das und ist sind nicht ein eine einen einer ich wir mit von auf raus rein drin ab dran drauf runter noch fertig jetzt alle beide bei zu den dem des kein keine hab habe hat haben wer wie wo wann welche welcher welches links rechts vorne hinten wieder muss soll wird wurde nach vor bis aber auch schon nur gleich fehlt morgen ja nein nee danke bitte moin stufe liter grad uhr für gemacht meinte vergiss streich als war zyl läuft geht kommt vl vr hl hr gut wenn falls neue neues neuer feierabend mahlzeit',
  ),
  verbs,
  phrasal,
  particles,
  adverbs,
  states,
  cues,
  held,
  commands,
  limitPhrases,
  figurePhrases,
  abbreviations,
  contractions,
  soundAlikes,
  units,
  numbers,
  ordinals,
  letters,
  heardNumbers: {},
  sides,
  positionNouns,
  stageNouns,
  stop: [
    ...new Set([
      ...stop,
      ...words('gehalten verloren leicht licht recht thermometer manometer tonnen'),
    ]),
  ],
  joining: ['und', 'aber', 'nur', 'bis', 'auf', 'sind'],
  turning: words(
    'nicht keine keinen nichts gleich morgen später nachher sobald bevor vielleicht wahrscheinlich vermutlich sollte könnte würde fehlen hoffe hoffentlich vergessen kommt nach auch immer auf von nur',
  ),
  common,
  prepositions,
  auxiliaries,
  pronouns,
  persons: words('i we'),
  times: {
    at: words('um seit gegen ab'),
    ago: ['vor'],
    half: ['halb'],
    quarter: ['viertel'],
    past: ['nach'],
    to: ['vor'],
    yesterday: ['gestern'],
    before: words('vor nach während'),
    moments: {
      mittag: 'dinner',
      mittagspause: 'dinner',
      essen: 'dinner',
      pause: 'break',
      frühstück: 'break',
      frühstückspause: 'break',
    },
  },
  plurals: [],
  forms,
  root,
  nouns,
  usual: usualWords,
  sameThing,
  laid: {
    auf: words('werkbank palette boden wagen tisch bank karre'),
    in: words('schrott tonne eimer wanne kiste dose container fass'),
    am: words('boden kran'),
  },
  verbLast: true,
  nounCapitals: true,
  wholeNumbers: true,
});
