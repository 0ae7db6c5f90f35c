// Small words of German. The rules know each small word by one spelling: its variants, and the German words for
// "not", "and", "is", are opened to it before anything is looked up.

const pairs = (text: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    text.split(';').flatMap((row) => {
      const [to = '', from = ''] = row.split(':');
      return from
        .trim()
        .split(' ')
        .map((word) => [word, to.trim()] as const);
    }),
  );

export const contractions: Readonly<Record<string, string>> = {
  ...pairs(
    'not: nicht ned net nich nix;and: und u;or: oder;no: kein keine keinen keiner keines keinem keins;the: der die das den dem des;a: eine einen einer einem eines ne nen;is: ist;are: sind seid;were: waren war;has: hat;have: haben habe hab habt;am: bin;of: von;i: ich;we: wir;you: du;if: wenn falls;once: sobald;before: bevor;between: zwischen;instead: statt anstatt;meant: meinte gemeint;both: beide beiden beider;nobody: niemand;done: fertig erledigt gemacht geschafft;then: dann;point: komma;all: alle allen aller alles',
  ),
  hats: 'has es',
  ists: 'is es',
  habs: 'have es',
  hamwer: 'have we',
  isses: 'is es',
  is: 'is',
  vom: 'of the',
  zum: 'zu the',
  zur: 'zu the',
  beim: 'bei the',
  im: 'in the',
  ins: 'in the',
  aufs: 'auf the',
  ans: 'an the',
  fürs: 'für the',
  fuer: 'für',
  schonmal: 'schon mal',
  nochmal: 'noch mal',
  nochmals: 'noch mal',
  gehts: 'geht es',
  gibts: 'gibt es',
  wieviel: 'wie viel',
  iO: 'in ordnung',
  io: 'in ordnung',
  ausserdem: 'außerdem',
  muß: 'muss',
  außer: 'ausser',
};

/** Short forms, each with its meaning. */
export const abbreviations: Readonly<Record<string, string>> = {
  zyl: 'zylinder',
  zylindern: 'zylinder',
  zylinders: 'zylinder',
  inj: 'injektor',
  injs: 'injektoren',
  einspritzdüse: 'injektor',
  einspritzdüsen: 'injektoren',
  nrn: 'nr',
  stf: 'stufe',
  km: 'km',
  kühlm: 'kühlmittel',
  kühlfl: 'kühlmittel',
  kühlflüssigkeit: 'kühlmittel',
  brühe: 'kühlmittel',
  sprit: 'kraftstoff',
  krst: 'kraftstoff',
  mot: 'motor',
  getr: 'getriebe',
  kuppl: 'kupplung',
  batt: 'batterie',
  stg: 'steuergerät',
  hd: 'hochdruck',
  schr: 'schrauben',
  dicht: 'dicht',
  drehmo: 'drehmomentschlüssel',
  box: 'getriebe',
  rolle: 'rollenprüfstand',
  bremsenprüfstand: 'rollenprüfstand',
  ventildeckels: 'ventildeckel',
  ausgeb: 'ausgebaut',
  eingeb: 'eingebaut',
  angez: 'angezogen',
  festgez: 'festgezogen',
  abgel: 'abgelassen',
  aufgef: 'aufgefüllt',
  gepr: 'geprüft',
  kontr: 'kontrolliert',
  mont: 'montiert',
  demont: 'demontiert',
  ern: 'erneuert',
  gew: 'gewechselt',
  entl: 'entlüftet',
  gerein: 'gereinigt',
};

export const soundAlikes: Readonly<Record<string, string>> = {
  dreh: 'drehmoment',
  newton: 'newton',
  kapsel: 'kapsel',
};

/** Words that carry no meaning for the match of a step. */
export const stop = (
  'the a an and or of is are was were has have had am i we you not no if once before between instead done then all both ' +
  'der die das den dem des ein eine einen einer einem eines dieser diese dieses diesen jener mein meine meinen meiner dein deine sein seine unser unsere euer ihr ihre ihren ihrem er sie es man uns euch ihm ihn ihnen mir mich dir dich sich selbst selber ' +
  'in im an am auf aus bei mit nach von vor zu zur zum für durch gegen ohne um unter über bis ab seit wegen während neben hinter trotz per pro je ' +
  'wird werden werde wurde wurden worden geworden bist sein gewesen hatte hatten hätte wäre kann kannst können könnte könnt muss musst müssen musste müsste soll sollen sollte will wollen wollte darf dürfen dürfte mag möchte lasse lässt tut tun ' +
  'auch nur noch schon mal gerade grad eben jetzt nun gleich dann danach bald immer nie wieder erst sehr ganz gar so da dort hier hin her doch ja nein ne nee nö jo joa okay ok halt eigentlich endlich mittlerweile inzwischen bereits heute gestern morgen später vorhin soeben nachher vorher zuerst zunächst dabei dazu dafür davon daran darauf darin damit daher deshalb trotzdem zwar aber sondern denn weil dass ob als wie wo wer was wen wem wann warum wieso welche welcher welches welchen ' +
  'bitte danke moin hallo servus chef jungs leute kollege kollegen meister mensch mann alter super prima klasse gut gute guter guten schön schöne leider hoffentlich natürlich sauber ordentlich richtig genau einfach schnell langsam vorsichtig komplett vollständig ganze ganzen einmal zweimal neue neuen neuer neues neu alte alten alter altes altem stück stk mal steht stehen liegt liegen hängt beträgt betragen sitzt kommt kommen geht gehen gemacht fertig erledigt soweit weiter weiterhin etwas viel viele mehr wenig weniger nichts alle alles allen beide beiden jede jeder jedes jedem rest halbe stelle seite seiten seitig ende anfang sache sachen ding teil teile zeug arbeit auftrag minute minuten stunde stunden uhr tag tage woche pause mittag schicht feierabend einige paar ding nummer nr hat haben hab wurde für ey so tja na ach oh äh ähm hm hmm punkt ordnung person zweite zweiter erste ersten dritte sind waren bus lkw fahrzeug wagen halle werkstatt gruppe kreuz kreuzweise überkreuz diagonal reihenfolge jeweils unterschied differenz abweichung wert messwert ergebnis schale kiste wanne eimer schlüssel drehmomentschlüssel'
).split(' ');

/** Ordinary words that are never taken for a slip of a trade word. */
export const common: readonly string[] =
  'draht haken seil kabelbinder strick stecker nuss nüsse meine meinen meiner deine seine keine unsere haus hause leben lesen legen leber lauter laut leute lachen lang lange länger kaffee kuchen käse kantine karte kasse katze kaufen kennen kind kinder kiste klar klein kleine kleiner koch kochen kommen könig können kopfweh kosten kraft krank kreis küche kunde kunden kurz kürzer maler mantel markt maschine mauer mehr meer meist meister messe messer minute mittag mittel monat morgen mund musik mutti nacht name namen natur neben nehmen nennen netz neun niemals noten nummer nase nasen nabel obst ofen ohren onkel oma opa ordner ort papa papier party pause pfeife platz platte polizei post preis pferd pinsel problem punkt rasen raten rauch raum rechnung reden regen reich reihe reise rennen rest retter rente rezept richter ring rufen ruhe rücken sagen salat salz samstag sand satz schaden schaf scharf schatten schein schiff schinken schlaf schlafen schlange schlecht schluss schmerz schnee schnell schnitzel schon schön schrank schrei schritt schuh schuld schule schulter schwer schwester see segel sehen seife seil sein seit selten senf sicher singen sitzen sommer sonne sonntag sorge spaß spät spiegel spielen spieler sport sprache stadt stadion stahl stark statt stehen stein sterben stern steuer still stimme stimmung strand straße strafe streik streit strom stück stuhl stunde suche suchen suppe süß tafel tanz tanzen tasche tasse taube teller teppich teuer tier tisch tochter tod tor tore tour tragen traum treffen treten trinken tropfen turm tür übung uhr umwelt unfall urlaub vater verein verkehr verkaufen versicherung viel vogel volk wahl wald wand warm warten wäsche wechseln weg weihnachten wein weiß welt wenig werden werfen werk wetter wichtig wiese wind winter wirt wissen witz woche wohnen wohnung wolke wort wörter wunder wünschen wurst zahl zahlen zahn zeichen zeigen zeitung zelt zettel ziel zimmer zoll zucker zug zukunft zunge zweck bein beine berg bett bier bild bitten blatt blau blume boden boot böse brauchen braun brei breit brief brille bringen brot brötchen bruder brücke buch bude bühne bunt burg chance chef computer dach dame dampf dank daumen decke denken dick dieb dienst ding dorf dose dosen drehen druckt dumm dunkel durst dusche ecke ehe eier eile eimer eis essen ernst fabrik fahne falle familie fangen farbe fasching fass faul faust feiern feier fein feld fenster ferien fern fett feuer fieber film finden finger firma fisch flasche fleisch fliegen flug fluss folge frage fragen frau frei freitag freude freund frisch frosch frucht früh frühling frühstück fuchs führen fuß fußball futter gabel gans garten gast gebäude geben geburt geburtstag geduld gefahr gefühl gehalt geheim gehen geist gelb geld gemüse genau gericht gern gerne geschäft geschenk geschichte geschwister gesetz gesicht gesund getränk gewicht gewinn gewinnen gewitter gibt gift gipfel glas glatt glauben glück gold gott grab gras grau greifen grenze grill grillen groß grün grund gruß gürtel haar haare hafen hahn hälfte hals halten hand hände handy hart hase hauen häufig haut heft heilig heiß heißen heizung held helfen hell hemd herbst herr herz heute hilfe himmel hinten hirn hitze hobby hoch hochzeit hof hoffen höhe holen holz honig hören hose hosen hotel hübsch hund hunger husten hut idee igel insel jacke jagd jahr jahre januar jeder jemand jung junge juni juli lied mögen müde muss nett oder passt radio sauer sitz tipp toll total tun weil wenn auch dein einer eines etwas hätte immer ihre ihren ihrer jetzt jene leider links manche oben rechts selber stellen teil teilen unser unten viele vorn wache wagen wahr'.split(
    ' ',
  );

export const prepositions =
  'of in an auf aus bei mit nach vor zu für durch gegen ohne um unter über bis seit am neben hinter zwischen between per von'.split(
    ' ',
  );

export const auxiliaries =
  'is are was were has have am wurde wurden worden sein gewesen hatte wird werden'.split(' ');

export const pronouns = 'es sie er i we you man das die der'.split(' ');
