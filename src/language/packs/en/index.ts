// English as it is written in workshops. Nearside is left: the pack is made for vehicles that drive on the left.
import { bareTables } from '../../bare-tables.ts';
import type { LanguagePack } from '../../pack.ts';
import { abbreviations, contractions, soundAlikes } from './abbreviations.ts';
import { commands, figurePhrases, limitPhrases } from './commands.ts';
import { commonWords } from './common-words.ts';
import { cues } from './cues/index.ts';
import { forms } from './forms.ts';
import { held } from './held.ts';
import {
  heardNumbers,
  letters,
  numbers,
  ordinals,
  positionNouns,
  sides,
  stageNouns,
  units,
} from './numbers.ts';
import { ordinaryWords } from './ordinary-words.ts';
import { sameThing } from './same-thing.ts';
import { usualWords } from './usual-words.ts';
import { particles, phrasal, states, verbs } from './verbs.ts';

const words = (text: string) => text.split(' ');

export const english: LanguagePack = bareTables({
  code: 'en',
  marks: words(
    'the is are was and not on off in out of done it to for i my with you what have has will new all at this that stage been from but now just we then still got no yes which these them they',
  ),
  verbs,
  phrasal,
  particles,
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
  heardNumbers,
  sides,
  positionNouns,
  stageNouns,
  stop: words(
    'the a an this that these those it them they he she we you i me us my your our their his her its of to at by for with from into onto over through around per and or but so as is are was were be been being am have has had having do does did will would shall should can could may might must new old same one ones just now then also too very quite really well there here all both each every any some got get gets getting went go goes going come came coming up down off out in on back again only about around more most much many bit lot lots set please mate lads right ok good fine nice not no yes yep yeah oh ah well hi hello morning afternoon finally again already yet still even properly fully completely nicely sweet lovely job jobs thing things stuff way time today hand hands done finished complete completed sorted side sides end ends piece pieces round along after before during until till when if while because since number numbers no such own other another everything anything something nothing two three four five six seven eight nine ten which who what where how why eh er um erm boss guys chaps fella pal dude bro quick quickly careful carefully slow slowly eventually enough first last next final fresh brand make made sure as per spec book good great proper tidy tidily together whole entire total totally little big small hard easy bastard bloody flipping damn sodding thing pig swine nightmare hassle effort struggle fight bugger git cow nightmare faff moment minute sec second bit while ago today yesterday tomorrow tonight day shift bucket drum tray tub bath floor pallet rack rag rags gun windy ratchet socket trolley crane hoist pit wood wooden hammer hammers crowbar puller torch tester laptop heater induction beam rope spanner spanners skt marker chalk radiator screwdriver finest thermometer tonne tonnes tons ton crosswise fore aft',
  ),
  common: commonWords,
  ordinary: ordinaryWords,
  joining: ['and', 'but', 'only', 'fwd'],
  mayDeny: words('no hot bot jot nor nog nod note knot mot'),
  turning: words(
    'not never about think reckon wish hope should would could will going gonna once until unless except apart hand finger still maybe probably perhaps before need needs remaining outstanding waiting ready tomorrow later almost nearly half without cannot cant dont didnt isnt arent havent hasnt wont anyone anybody someone somebody have what when where which remember forgot supposed might must want trying ought next left from then weeping leaking dripping broken missing damaged seized stuck pretty follow but yet',
  ),
  prepositions: words(
    'of to at by for with from into onto over through under between behind against before after without inside outside around per near on in about against',
  ),
  auxiliaries: words('is are was were be been being am has have had got get gets'),
  pronouns: words('it they them these those this that he she we i you one ones'),
  persons: words('i we'),
  times: {
    at: ['at', '@', 'by', 'around', 'about', 'since', 'from'],
    ago: ['ago', 'back', 'since'],
    half: ['half', 'half past'],
    quarter: ['quarter'],
    past: ['past'],
    to: ['to'],
    yesterday: ['yesterday', 'last night'],
    before: ['before', 'after', 'at', 'during', 'just before', 'just after'],
    moments: {
      dinner: 'dinner',
      lunch: 'dinner',
      tea: 'tea',
      break: 'break',
      brew: 'break',
      noon: 'noon',
      midday: 'noon',
      midnight: 'midnight',
    },
  },
  plurals: [
    ['ches', 'ch'],
    ['shes', 'sh'],
    ['xes', 'x'],
    ['sses', 'ss'],
    ['ies', 'y'],
    ['ves', 've'],
    ['s', ''],
  ],
  usual: usualWords,
  sameThing,
  laid: {
    on: words(
      'floor bench pallet ground deck trolley cart table crane hoist sling workbench stand',
    ),
    in: words('skip bin bucket tub tray drum scrap tin crate tote pan can'),
  },
  forms,
});
