// Verbs of the workshop by family. Regular forms are made; irregular ones are written here.
import type { ActionClass, VerbRow } from '../../pack.ts';

const rows: readonly (readonly [ActionClass | readonly ActionClass[], string])[] = [
  [
    'remove',
    'scrap|scrapped bin|binned chuck remove pull strip withdraw|withdrew|withdrawn extract take|took|taken unbolt detach whip yank prise dismantle separate unscrew uninstall disassemble draw|drew|drawn hoick pop|popped',
  ],
  [
    'fit',
    'fit|fitted refit|refitted install reinstall put|put seat mount refasten assemble reassemble replace|replaced bolt place locate offer slide|slid drop|dropped re-fit rebuild|rebuilt',
  ],
  ['renew', 'renew replace|replaced change swap|swapped'],
  [
    'tighten',
    'torque|torqued|torquing tighten nip|nipped clamp secure retorque re-torque retighten pinch',
  ],
  ['loosen', 'loosen slacken undo|undid|undone crack ease unwind|unwound slack unfasten'],
  ['drain', 'drain empty|emptied dump drop|dropped bleed-off siphon'],
  ['fill', 'fill refill top|topped replenish fill-up pour squirt'],
  [
    'clean',
    'clean wipe wash degrease brush blow|blew|blown flush scrub|scrubbed polish swab|swabbed ream hoover vacuum swill rinse scrape',
  ],
  [
    'check',
    'check inspect verify|verified examine look assess confirm review recheck re-check feel|felt',
  ],
  ['measure', 'measure gauge dial dti mic|micced'],
  ['test', 'test roadtest road-test prove pressure-test pressurise retest'],
  [
    'enter',
    'enter program|programmed|programed code input|input key upload teach|taught reprogram|reprogrammed write|wrote|written load type punch',
  ],
  [
    'read',
    'read|read note record write|wrote|written log|logged scan|scanned copy|copied jot|jotted',
  ],
  ['clear', 'clear erase wipe delete reset|reset'],
  ['bleed', 'bleed|bled vent purge'],
  ['prime', 'prime pump'],
  [
    'connect',
    'connect reconnect plug|plugged hook couple join attach reattach wire link clip|clipped re-connect',
  ],
  ['disconnect', 'disconnect unplug|unplugged unhook uncouple unclip|unclipped detach unclamp'],
  ['isolate', 'isolate disconnect de-energise lock-out kill'],
  ['chock', 'chock scotch wedge'],
  ['lift', 'lift jack raise hoist'],
  ['lower', 'lower let-down drop|dropped'],
  [
    'support',
    'support hang|hung strap|strapped tie|tied hold|held prop|propped stand|stood sling|slung rest suspend',
  ],
  ['mark', 'mark tag|tagged label scribe paint number'],
  ['cap', 'cap|capped plug|plugged blank cover bung|bunged mask seal tape'],
  ['start', 'start crank fire run|ran|run restart'],
  ['stop', 'stop|stopped'],
  ['drive', 'drive|drove|driven park move reverse'],
  ['adjust', 'adjust set|set align calibrate tension zero|zeroed shim|shimmed re-set reset|reset'],
  ['grease', 'grease lube lubricate oil pack smear coat'],
  ['press', 'press tap|tapped knock drift drive|drove|driven push'],
  ['relieve', 'relieve depressurise release vent discharge'],
  ['open', 'open uncover'],
  ['close', 'close shut|shut'],
  ['cool', 'cool'],
  ['warm', 'warm heat'],
  ['sign', 'sign hand-over'],
  ['photo', 'photograph photo|photoed snap|snapped'],
  ['turn', 'turn rotate bar|barred spin|spun'],
  ['apply', 'apply|applied engage smear'],
  ['release', 'release disengage free|freed wind-off'],
  ['lock', 'lock pin|pinned peen stake lockwire secure'],
  ['unlock', 'unlock unpin|unpinned unstake'],
  ['count', 'count'],
  [[], 'come|came go|went|gone'],
];

function gather(): VerbRow[] {
  const byBase = new Map<string, { classes: ActionClass[]; past: string[] }>();
  for (const [family, list] of rows) {
    const classes = (Array.isArray(family) ? family : [family]) as ActionClass[];
    for (const item of list.split(' ')) {
      const [base = '', ...past] = item.split('|');
      const row = byBase.get(base) ?? { classes: [], past: [] };
      row.classes.push(...classes.filter((one) => !row.classes.includes(one)));
      row.past.push(...past.filter((one) => !row.past.includes(one) && !one.endsWith('ing')));
      byBase.set(base, row);
    }
  }
  return [...byBase].map(([base, row]) => ({
    base,
    classes: row.classes,
    ...(row.past.length > 0 ? { past: row.past } : {}),
  }));
}

export const verbs: readonly VerbRow[] = gather();

/** A verb and the particle behind it, where together they belong to another family. */
export const phrasal: Readonly<Record<string, ActionClass | readonly ActionClass[]>> = {
  'do up': 'tighten',
  'nip up': 'tighten',
  'pull down': 'tighten',
  'pull up': 'tighten',
  'bolt up': 'tighten',
  'bolt down': 'tighten',
  'wind up': 'tighten',
  'run down': 'tighten',
  'run up': 'start',
  'back off': 'loosen',
  'crack off': 'loosen',
  'slack off': 'loosen',
  'slacken off': 'loosen',
  'ease off': 'loosen',
  'wind off': 'loosen',
  'let off': 'loosen',
  'top up': 'fill',
  'fill up': 'fill',
  'take off': 'remove',
  'take out': 'remove',
  'come out': ['remove', 'drain'],
  'come off': 'remove',
  'lift off': 'remove',
  'lift out': 'remove',
  'press out': 'remove',
  'knock out': 'remove',
  'drift out': 'remove',
  'drive out': 'remove',
  'drop out': 'remove',
  'pull out': 'remove',
  'pull off': 'remove',
  'let down': 'lower',
  'let out': 'drain',
  'dump out': 'drain',
  'drop in': 'fit',
  'drop back': 'fit',
  'slide in': 'fit',
  'slide on': 'fit',
  'tap in': 'press',
  'pull in': 'fit',
  'put on': 'fit',
  'put in': 'fit',
  'put back': 'fit',
  'go on': 'fit',
  'go in': ['fit', 'fill', 'enter'],
  'go back': 'fit',
  'come away': 'remove',
  'take away': 'remove',
  'put up': ['lift', 'fit'],
  'run in': 'fit',
  'plug in': 'connect',
  'hook up': 'connect',
  'jack up': 'lift',
  'prop up': 'support',
  'blow out': 'clean',
  'blow down': 'relieve',
  'wipe down': 'clean',
  'sign off': 'sign',
  'hand over': 'sign',
  'blank off': 'cap',
  'cap off': 'cap',
  'bung up': 'cap',
  'switch off': 'stop',
  'turn off': 'stop',
  'shut off': 'stop',
  'shut down': 'stop',
  'knock off': 'stop',
  'fire up': 'start',
  'start up': 'start',
  'warm up': 'warm',
  'cool down': 'cool',
  'key in': 'enter',
  'type in': 'enter',
  'punch in': 'enter',
  'put down': 'lower',
};

/** Particles that report a move by themselves, with the families they may stand for. */
export const particles: Readonly<Record<string, readonly ActionClass[]>> = {
  off: ['remove', 'disconnect', 'isolate', 'stop'],
  away: ['remove'],
  out: ['remove', 'drain'],
  in: ['fit', 'fill', 'enter', 'connect', 'renew'],
  on: ['fit', 'connect', 'renew', 'apply'],
  up: ['lift', 'support', 'tighten', 'fit'],
  down: ['remove', 'lower'],
  back: ['fit'],
};

export const states: Readonly<Record<string, readonly ActionClass[]>> = {
  full: ['fill'],
  brimmed: ['fill'],
  empty: ['drain'],
  dry: ['drain', 'clean'],
  tight: ['tighten'],
  loose: ['loosen'],
  slack: ['loosen'],
  clean: ['clean'],
  spotless: ['clean'],
  home: ['fit', 'press'],
  dead: ['isolate'],
  shut: ['close'],
  bare: ['remove'],
  airborne: ['lift'],
  cold: ['cool'],
};
