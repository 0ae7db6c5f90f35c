// Verbs of the workshop by family. A plus marks a prefix that may stand apart: "aus+bauen", "ich baue sie aus".
import type { ActionClass, VerbRow } from '../../pack.ts';
import { forms, root } from './forms.ts';
import { nouns } from './nouns.ts';

/** Forms that the regular pattern does not make: participle and past, then the present. */
const STRONG: Readonly<Record<string, readonly [past: string, present: string]>> = {
  ziehen: ['gezogen zog zogen', 'zieht'],
  nehmen: ['genommen nahm nahmen', 'nimmt'],
  lassen: ['gelassen ließ liess ließen', 'lässt lasst'],
  heben: ['gehoben hob', 'hebt'],
  schließen: ['geschlossen schloss', 'schließt'],
  gießen: ['gegossen goss', 'gießt'],
  messen: ['gemessen maß', 'misst'],
  schieben: ['geschoben schob', 'schiebt'],
  blasen: ['geblasen blies', 'bläst'],
  fahren: ['gefahren fuhr', 'fährt'],
  bringen: ['gebracht brachte', 'bringt'],
  schreiben: ['geschrieben schrieb', 'schreibt'],
  lesen: ['gelesen las', 'liest'],
  treiben: ['getrieben trieb', 'treibt'],
  schlagen: ['geschlagen schlug', 'schlägt'],
  hängen: ['gehängt gehangen hing', 'hängt'],
  binden: ['gebunden band', 'bindet'],
  gehen: ['gegangen ging', 'geht'],
  kommen: ['gekommen kam', 'kommt'],
  geben: ['gegeben gab', 'gibt'],
  tragen: ['getragen trug', 'trägt'],
  laufen: ['gelaufen lief', 'läuft'],
  sehen: ['gesehen sah', 'sieht'],
  fangen: ['gefangen fing', 'fängt'],
  werfen: ['geworfen warf', 'wirft'],
  treten: ['getreten trat', 'tritt'],
  verbinden: ['verbunden verband', 'verbindet'],
  verschließen: ['verschlossen verschloss', 'verschließt'],
  übergeben: ['übergeben übergab', 'übergibt'],
  unterschreiben: ['unterschrieben unterschrieb', 'unterschreibt'],
  freigeben: ['freigegeben', ''],
};

const rows: readonly (readonly [ActionClass | readonly ActionClass[], string])[] = [
  [
    'remove',
    'aus+bauen ab+bauen aus+nehmen ab+nehmen heraus+nehmen raus+nehmen weg+nehmen runter+nehmen herunter+nehmen demontieren ab+ziehen heraus+ziehen raus+ziehen runter+ziehen ziehen entfernen aus+hängen ab+schrauben heraus+schrauben raus+schrauben runter+schrauben aus+pressen raus+pressen aus+treiben aus+schlagen ab+heben heraus+heben raus+heben ab+machen raus+machen runter+machen weg+machen raus+holen raus+bekommen aus+drücken zerlegen heraus+drehen raus+drehen ab+schlagen aus+bringen ab+flanschen aus+clipsen ab+clipsen aus+fädeln weg+räumen weg+stellen ab+montieren weg+fahren',
  ],
  [
    'fit',
    'ein+bauen an+bauen auf+legen ein+setzen an+setzen auf+setzen ein+legen montieren auf+stecken ein+stecken ein+führen ein+schieben auf+schieben an+schrauben ein+schrauben fest+schrauben ein+hängen ein+pressen rein+pressen ein+ziehen dran+machen ran+machen rein+machen drauf+machen rein+setzen drauf+setzen drauf+legen zusammen+bauen ein+treiben auf+ziehen an+bringen ein+drehen auf+schrauben dran+schrauben rein+drehen rein+schieben rein+stecken drauf+stecken setzen unter+stellen an+montieren auf+pressen an+hängen verbauen drunter+stellen an+flanschen ein+clipsen auf+clipsen ein+fädeln verschrauben ein+kleben',
  ],
  ['renew', 'erneuern ersetzen wechseln aus+wechseln tauschen aus+tauschen'],
  [
    'tighten',
    'an+ziehen fest+ziehen nach+ziehen fest+drehen an+drehen fest+machen an+knallen vor+ziehen fest+schrauben zu+drehen nach+drehen zu+schrauben',
  ],
  [
    'loosen',
    'lösen an+lösen lockern auf+drehen los+schrauben los+drehen ab+drehen entspannen los+machen auf+brechen knacken zurück+ziehen',
  ],
  ['drain', 'ab+lassen entleeren aus+leeren leeren ab+saugen raus+lassen aus+lassen'],
  [
    'fill',
    'auf+füllen ein+füllen befüllen füllen nach+füllen nach+kippen rein+kippen nach+gießen ein+gießen rein+füllen auf+kippen rein+schütten auf+bauen',
  ],
  [
    'clean',
    'reinigen säubern putzen aus+blasen ab+blasen wischen aus+wischen ab+wischen spülen aus+spülen ab+saugen aus+saugen bürsten ab+bürsten aus+bürsten polieren entfetten sauber+machen saugen waschen',
  ],
  [
    'check',
    'prüfen kontrollieren nach+prüfen gegen+prüfen überprüfen checken an+sehen an+schauen nach+sehen nach+schauen begutachten gegen+checken durch+sehen',
  ],
  ['measure', 'messen nach+messen vermessen aus+messen'],
  ['test', 'testen ab+drücken aus+probieren'],
  [
    'enter',
    'ein+tragen ein+geben codieren kodieren programmieren an+lernen ein+lernen ein+tippen hinterlegen ein+schreiben auf+spielen',
  ],
  ['read', 'lesen aus+lesen ab+lesen notieren auf+schreiben ab+schreiben'],
  ['clear', 'löschen zurück+setzen'],
  ['bleed', 'entlüften'],
  ['prime', 'entlüften'],
  [
    'connect',
    'an+schließen an+klemmen verbinden an+stecken auf+stecken ein+stecken verkabeln zusammen+stecken',
  ],
  ['disconnect', 'ab+klemmen ab+stecken aus+stecken trennen ab+ziehen ab+schließen'],
  ['isolate', 'ab+klemmen trennen ab+schalten frei+schalten'],
  ['chock', 'verkeilen sichern unter+legen'],
  ['lift', 'an+heben hoch+heben auf+bocken heben hoch+bocken hoch+nehmen'],
  [
    'lower',
    'ab+senken herunter+lassen runter+lassen ab+setzen senken ab+lassen ab+bocken runter+bocken',
  ],
  [
    'support',
    'ab+stützen verzurren auf+hängen fest+binden ab+fangen stützen zurren setzen unter+bauen auf+bocken an+binden hoch+binden',
  ],
  ['mark', 'markieren kennzeichnen beschriften an+zeichnen nummerieren'],
  ['cap', 'verschließen ab+kleben ab+decken verstopfen zu+stopfen'],
  ['start', 'starten an+lassen an+werfen an+machen'],
  ['stop', 'ab+stellen aus+schalten aus+machen ab+schalten'],
  ['drive', 'fahren bewegen um+setzen um+parken ein+bremsen ein+fahren rangieren'],
  [
    'adjust',
    'ein+stellen justieren nach+stellen kalibrieren spannen nullen aus+richten zentrieren zurück+setzen zurück+drehen',
  ],
  ['grease', 'fetten ein+fetten ein+ölen ölen schmieren ab+schmieren ein+schmieren'],
  ['press', 'pressen ein+pressen aus+pressen ein+schlagen ein+treiben auf+pressen'],
  ['relieve', 'entlasten ab+bauen entspannen ab+blasen'],
  ['open', 'öffnen auf+machen auf+schrauben'],
  ['close', 'schließen zu+machen verschließen zu+schrauben'],
  ['cool', 'ab+kühlen kühlen'],
  ['warm', 'warm+laufen warm+fahren auf+wärmen'],
  ['sign', 'unterschreiben übergeben'],
  ['photo', 'fotografieren knipsen'],
  ['turn', 'drehen durch+drehen zurück+drehen'],
  ['apply', 'auf+tragen betätigen an+ziehen aktivieren zurück+drehen rein+drehen'],
  ['release', 'aktivieren'],
  ['lock', 'sichern um+legen versplinten verriegeln um+schlagen um+biegen'],
  ['unlock', 'entsichern entriegeln'],
  ['count', 'zählen'],
  ['own:dispose', 'entsorgen weg+bringen'],
  ['own:return', 'ab+geben zurück+geben'],
  ['own:bed', 'ein+bremsen'],
  // Nouns of deeds: "Sichtprüfung", "Probefahrt".
  ['check', 'prüfung kontrolle nachkontrolle'],
  ['measure', 'messung'],
  ['test', 'test fahrt druckprobe'],
  ['drive', 'fahrt'],
  [[], 'an+fangen kommen gehen machen holen bekommen kriegen'],
];

/** A noun is never taken for a form of a verb: "Bremse", "Stütze". */
const NOUNS: ReadonlySet<string> = new Set(nouns);
const NOUN_ROOTS: ReadonlySet<string> = new Set(nouns.map(root));

type Made = { classes: ActionClass[]; past: Set<string>; ing: Set<string>; zu?: string };

/** The forms of a verb without its prefix. */
function bare(verb: string): { past: string[]; ing: string[] } {
  if (!/n$/.test(verb)) return { past: [], ing: [] };
  const strong = STRONG[verb];
  const made = forms(verb);
  if (!strong) return made;
  const list = (text: string) => text.split(' ').filter((word) => word !== '');
  return {
    past: list(strong[0]),
    ing: [made.ing[0] ?? '', ...list(strong[1])].filter((word) => word !== ''),
  };
}

function gather(): { verbs: VerbRow[]; pairs: Record<string, ActionClass[]> } {
  const byBase = new Map<string, Made>();
  const pairs: Record<string, ActionClass[]> = {};
  const row = (base: string): Made => {
    const have = byBase.get(base) ?? { classes: [], past: new Set(), ing: new Set() };
    byBase.set(base, have);
    return have;
  };
  for (const [family, list] of rows) {
    const classes = (Array.isArray(family) ? family : [family]) as ActionClass[];
    for (const item of list.split(' ')) {
      const [first = '', second] = item.split('+');
      const stem = second ?? first;
      const prefix = second === undefined ? '' : first;
      const base = prefix + stem;
      const made = row(base);
      made.classes.push(...classes.filter((one) => !made.classes.includes(one)));
      const { past, ing } = bare(stem);
      for (const form of past) if (!NOUNS.has(prefix + form)) made.past.add(prefix + form);
      for (const form of ing) if (!NOUNS.has(prefix + form)) made.ing.add(prefix + form);
      if (prefix === '') continue;
      made.zu = `${prefix}zu${stem}`;
      // "Schrauben" are things; only the other forms of the verb are read where the prefix stands apart.
      const lemma = NOUN_ROOTS.has(root(stem)) ? `${stem}+` : stem;
      const apart = row(lemma);
      for (const form of past) if (!form.startsWith('ge') && !NOUNS.has(form)) apart.past.add(form);
      for (const form of ing) if (!NOUNS.has(form)) apart.ing.add(form);
      const pair = `${lemma} ${prefix}`;
      pairs[pair] = [...new Set([...(pairs[pair] ?? []), ...classes])];
    }
  }
  const verbs: VerbRow[] = [];
  for (const [base, made] of byBase) {
    verbs.push({ base, classes: made.classes, past: [...made.past], ing: [...made.ing] });
    if (made.zu) verbs.push({ base: made.zu, classes: made.classes, past: [], ing: [] });
  }
  return { verbs, pairs };
}

const gathered = gather();
export const verbs: readonly VerbRow[] = gathered.verbs;

/** A verb and its prefix standing apart at the end of the clause. */
export const phrasal: Readonly<Record<string, readonly ActionClass[]>> = {
  ...gathered.pairs,
  // "auf 45 Nm gezogen": with a torque or a stage before it, pulling is tightening.
  'laufen raus': ['drain'],
  'laufen ab': ['drain'],
  'nm ziehen': ['tighten'],
  'newtonmeter ziehen': ['tighten'],
  'grad ziehen': ['tighten'],
  'stufe ziehen': ['tighten'],
  'drehmoment ziehen': ['tighten'],
};

/** Words that report a move by themselves, with the families they may stand for. */
export const particles: Readonly<Record<string, readonly ActionClass[]>> = {
  ab: ['remove', 'disconnect', 'isolate', 'drain'],
  raus: ['remove', 'drain'],
  heraus: ['remove', 'drain'],
  draußen: ['remove', 'drain'],
  runter: ['remove', 'lower'],
  herunter: ['remove', 'lower'],
  unten: ['remove', 'lower'],
  weg: ['remove', 'disconnect'],
  rein: ['fit', 'fill', 'enter', 'connect'],
  drin: ['fit', 'fill', 'enter', 'connect', 'renew', 'chock'],
  drinnen: ['fit', 'fill', 'enter', 'connect'],
  dran: ['fit', 'connect', 'renew'],
  drauf: ['fit', 'connect', 'renew', 'apply', 'fill'],
  drunter: ['support', 'fit', 'chock'],
  hoch: ['lift'],
  oben: ['lift', 'fit'],
  auf: ['open'],
  aus: ['stop', 'isolate'],
  an: ['start', 'connect'],
  ein: ['connect', 'start'],
  zu: ['close'],
  los: ['loosen', 'disconnect'],
  zurück: ['loosen', 'release', 'adjust'],
  draufgemacht: ['fit'],
};

/** Particles that are never a preposition: what stands behind them is something new. */
export const adverbs: readonly string[] = [
  'raus',
  'heraus',
  'draußen',
  'runter',
  'herunter',
  'weg',
  'rein',
  'drin',
  'drinnen',
  'dran',
  'drauf',
  'drunter',
  'hoch',
  'oben',
  'unten',
  'los',
  'ab',
];

export const states: Readonly<Record<string, readonly ActionClass[]>> = {
  voll: ['fill'],
  leer: ['drain'],
  fest: ['tighten'],
  locker: ['loosen'],
  lose: ['loosen'],
  sauber: ['clean'],
  kalt: ['cool'],
  warm: ['warm'],
  heiß: ['warm'],
  drucklos: ['relieve'],
  stromlos: ['isolate'],
  spannungsfrei: ['isolate'],
  neu: ['renew', 'fit'],
  läuft: ['start'],
  geschmiert: ['grease'],
  sitzt: ['fit'],
  sitzen: ['fit'],
};
