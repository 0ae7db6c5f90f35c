// What can be asked of the chargehand in plain words, in German. "*" stands for any one word.

const list = (text: string): readonly string[] => text.split('|');

/** Phrases by the command they stand for; what each means is said in src/language/commands.ts. */
export const commands: Readonly<Record<string, readonly string[]>> = {
  next: list(
    'was kommt als nächstes|was als nächstes|was jetzt|was kommt jetzt|was ist als nächstes dran|was soll ich als nächstes machen|was ist dran|nächster schritt|was steht an|was steht noch aus|was ist noch offen|was ist noch zu tun|was muss noch gemacht werden|wie weiter|und jetzt',
  ),
  where: list(
    'wo stehen wir|wie weit sind wir|wie ist der stand|was fehlt noch|wo sind wir|wie siehts aus|zwischenstand|stand',
  ),
  'open-jobs': list(
    'offene aufträge|welche aufträge sind offen|zeig die offenen aufträge|alle aufträge|auftragsliste',
  ),
  late: list('was ist zu spät'),
  waiting: list('worauf warten wir'),
  hours: list('stunden'),
  'hours-ahead': list('stunden voraus|was liegt vor uns'),
  timeline: list('zeitleiste|zeig die zeitleiste'),
  'last-week': list('letzte woche'),
  forecast: list('wann ist er fertig|wann fertig'),
  handover: list('übergabe|schichtübergabe'),
  'open-job': list('neuer auftrag|auftrag öffnen'),
  'close-job': list('auftrag schließen|auftrag fertig'),
  'cancel-job': list('auftrag abbrechen'),
  'road-release': list('freigabe für die straße'),
  release: list('freigabe|freigegeben|ich gebe frei'),
  refuse: list('keine freigabe|nicht freigegeben'),
  override: list('übersteuern'),
  acknowledge: list('gesehen'),
  approve: list('genehmigt'),
  decline: list('abgelehnt'),
  'what-did-you-read': list('was hast du gelesen|was hast du verstanden'),
  record: list('protokoll'),
  history: list('historie'),
  help: list('hilfe'),
  assign: list('zuweisen'),
  'move-message': list('verschieben'),
};

/** Questions for a figure of the plan. */
export const limitPhrases = list(
  'welches drehmoment|wie viel nm|wieviel nm|wie viel|wieviel|welcher winkel|welches spiel|welcher wert|drehmoment für|grenzwert',
);

/** Questions for a calculation of the trade. */
export const figurePhrases = list('umrechnen|gefrierpunkt|mischung');
