// Signs of stance and of kinds of talk. Written as people write them; opened like every message, so that "nicht"
// stands here and "not" is compared.
import type { CueName } from '../../pack.ts';

export const cuesAsWritten: Readonly<Partial<Record<CueName, string>>> = {
  not: 'nicht|nie|niemals|niemand|nirgends|vergessen|vergaß|vergass|verschwitzt|hätte|hätten|hättest|kaum|weder|ohne zu|übersehen|ausgelassen|nichts',
  no: 'kein',
  'not-yet':
    'noch nicht|noch nie|noch kein|noch nichts|noch keiner|immer noch nicht|bisher nicht|bislang nicht|noch ungeprüft|unberührt|nicht angefangen|nicht mal angefangen|noch niemand|bisher niemand',
  'left-to-do':
    'fehlt noch|fehlen noch|fehlt|fehlen|noch zu|muss noch|müssen noch|muss ich noch|müssen wir noch|steht noch aus|stehen noch aus|steht aus|noch offen|kommt noch|kommen noch|übrig|bleibt noch|bleiben noch|noch machen|noch den winkel|noch winkel|noch der winkel|nicht fertig|nicht ganz fertig|unfertig|halb fertig|halbfertig|noch dran glauben|ausstehend|bleibt zu|such ich noch|suche ich noch|brauchen noch|braucht noch|zu tun|noch ausständig|wären noch|sind noch zu|ist noch zu',
  still: 'noch|immer noch|nach wie vor|weiterhin',
  except:
    'bis auf|ausser|außer|ausgenommen|nur nicht|bloß nicht|aber nicht|mit ausnahme von|abgesehen von|außer bei|ausser bei|bis auf die|bis auf den|ohne|nicht aber|außer der|ausser der|ausser die',
  future:
    'wird|werde|werd|werden|muss|müssen|musst|will|willst|wollen|wolln|soll|sollen|sollst|gleich|möchte|möchten|mach ich|mache ich|machen wir|bald|demnächst|ich selber|ich selbst|kümmere mich|kümmer mich|kann ich|können wir|plane|geplant|nehm ich mir|nehme ich|gehe jetzt|geh jetzt|geh ran|erinnert mich|nicht vergessen|denkt an|denk an|jetzt dann|in zehn minuten|in fünf minuten|in 5 min|in 10 min|würde|würden|würd|sollten|sollte|brauche ich|zu machen',
  later:
    'später|nachher|morgen|übermorgen|heute nachmittag|heute abend|heut nachmittag|heute nacht|nach der pause|nach pause|nach der mittagspause|nach mittag|nach dem mittag|nach dem essen|nach feierabend|nächste schicht|nächste woche|danach|anschließend|dann|erst nach|folgt|folgen|kommt|kommen|montag|dienstag|mittwoch|donnerstag|freitag|am montag|am freitag|spätschicht|nachtschicht|frühschicht|die spätschicht|nach dem kaffee|nach kaffee|in der früh|wenn ich zurück bin|erst morgen',
  ready: 'startklar|klar zum',
  next: 'als nächstes|als nächster|als nächste|nächstes|der nächste',
  condition:
    'wenn|falls|sobald|bevor|nachdem|solange|erst wenn|nur wenn|während|ob|bis der|bis die|bis das|vorausgesetzt|im fall|sofern|ehe|damit',
  wish: 'wäre|wären|wär|bekommen|bekommt|kriegen|kriegt|brauchen|braucht|gehören|gehört|benötigen|benötigt|sollwert|vorgabe|nennwert|hoffentlich|darf|dürfen|darfst|dürft|wünscht|wünsche|wär schön|wäre schön|wäre gut|angeordnet|chef will|chef sagt wir|meister will|laut plan|laut anleitung|laut handbuch|laut buch|laut blatt|laut tabelle|bereit|bereit zum|bereit für|bestellt|vorgesehen|verlangt|hau|haut|theoretisch|auf dem papier|träume|träum|lehnt|sag wen|sagt bescheid|sag bescheid',
  must: 'muss|müssen',
  doubt:
    'auch immer|von wem|dachte|dacht|gedacht|hoffe|hoff|hoffen|mein ich|meine ich|nehme an|nehm an|nehme ich an|gehe davon aus|geh davon aus|sag ich mal|würde sagen|glaub|glaube|glauben|denke|denk|vielleicht|wahrscheinlich|vermutlich|vermute|möglicherweise|eventuell|evtl|müsste|müssten|sollte|dürfte|dürften|könnte|könnten|scheint|scheinen|scheinbar|anscheinend|angeblich|weiß nicht|weiss nicht|weiß ich nicht|weiss ich nicht|weiß ich nich|kann ich nicht sagen|nicht sicher|unsicher|ziemlich sicher|fast sicher|meint|meinen|schätze|schätz|wohl|so gut wie|mehr oder weniger|keine ahnung|nicht genau|soweit ich weiß|soviel ich weiß|von wem auch immer|wer auch immer|sieht aus als|sieht so aus|quasi|irgendwie|sitzt bombenfest|sitzen bombenfest',
  nearly:
    'halb|fast|beinahe|teilweise|zum teil|größtenteils|grösstenteils|die meisten|meisten|ein paar|einige|zur hälfte|die hälfte|hälfte|nahezu|fast alle|so ziemlich|nicht alle|nicht ganz|nicht alles|aber noch nicht',
  starting:
    'angefangen|begonnen|fange|fang|fangen|fängt|beginne|beginn|beginnen|beginnt|bin dran|sind dran|bin dabei|sind dabei|gerade dabei|grad dabei|dabei|bin am|sind am|bin beim|sind beim|bin bei|sind bei|bin an|bin jetzt an|sind an|sitze an|in arbeit|arbeite an|arbeiten an|arbeite|gerade|mache gerade|mach gerade|gestartet mit|losgelegt|lege los|leg los|läuft gerade|läuft grad|luft kommt|mittendrin|steigt|baut sich auf|läuft ein',
  continuing: 'jetzt|momentan|zur zeit|zurzeit|im moment|aktuell',
  finished:
    'fertig|erledigt|gemacht|geschafft|abgeschlossen|vollständig|durchgeführt|getan|abgehakt|haken dran|alles fertig|done|beendet|vollbracht|ausgeführt|bestanden|erfolgreich',
  good: 'ok|okay|in ordnung|gut|passt|i o|sauber|dicht|stimmt|plan|frei|leichtgängig|im soll|im grünen bereich|in der toleranz|in toleranz|innerhalb|ruhig|rund|unauffällig|ohne befund|ohne auffälligkeiten|hält|einwandfrei|keine auffälligkeiten|nichts gefunden|trocken|alles gut|tadellos|spielfrei|geht rein|gehen rein|trennt',
  'question-start':
    'wer|was|sind alle|sind beide|ist alles|sind die|ist denn|sind denn|hat alle|war das|wann|wo|wie|warum|wieso|weshalb|welche|welcher|welches|welchen|welchem|wie viel|wie viele|womit|woher|wohin|wessen|wem|wen|ist der|ist schon|ist es|ist denn|sind die|sind schon|sind denn|hat der|hat schon|hat jemand|hat einer|hat wer|habt ihr|haben wir|hast du|hast|kann man|kann ich|kann jemand|kann einer|kann wer|können wir|könnt ihr|kannst du|kannst|könntest|könnte jemand|soll ich|sollen wir|soll das|soll der|darf ich|dürfen wir|darf man|muss ich|müssen wir|muss der|muss man|war der|war schon|wurde schon|wurde der|wird der|gibt es|weiß jemand|weiss jemand|weiß einer|jemand|braucht ihr|brauchen wir|brauchst du',
  'question-word': 'wer|was|wo|welche|welcher|welches|warum|wie viel|wie viele|wie lange|wann',
  'question-tag':
    'oder|gell|nicht wahr|richtig|stimmts|ja|oder nicht|oder was|klar|oder wie|ne|oder etwa nicht|hast du|weiß das jemand|stimmt das|oder nich',
  somebody: 'jemand|irgendwer|einer von euch|irgendjemand',
  says: 'sagt|sagte|meint|meinte|erzählt|behauptet|hat gesagt|laut|schreibt',
  book: 'handbuch|anleitung|vorgabe|plan sagt|tabelle|bot|zettel',
  retract:
    'vergiss das|vergiss es|vergesst das|vergesst es|streich das|streicht das|streiche das|streichen|lösch das|lösche das|lösch das letzte|nehm das zurück|nehme das zurück|nehm ich zurück|nehme ich zurück|zurückgenommen|falscher bus|falscher lkw|falsches fahrzeug|falscher thread|falscher chat|falscher auftrag|falsche maschine|falscher wagen|falscher kanal|stimmt nicht|stimmt doch nicht|doch nicht|war falsch|ist falsch|ignorier das|ignoriert das|ignorieren|fehlalarm|ungültig|zu früh gefreut|kommando zurück|rückgängig|war ich nicht|anderer bus|der andere bus|der andere lkw|anderes fahrzeug|mein fehler doch nicht|nie passiert|verwerfen|gilt nicht',
  repair:
    'ich meine|ich meinte|meine|meinte|ich mein|mein ich|äh|ähm|öh|äh nein|äh nee|nein|nee|ne|nö|nein sorry|nee sorry|nein moment|quatsch|nee quatsch|sorry|moment|vielmehr|besser gesagt|korrektur|pardon|ups|verzeihung|nein halt|falsch|blödsinn|quark',
  'repair-behind': 'vielmehr|mein ich|meine ich|sorry|pardon|korrektur',
  mistake:
    'sorry|entschuldigung|tschuldigung|mein fehler|falsch|vertippt|verschrieben|quatsch|korrektur|tippfehler|verlesen|verguckt|ups|hoppla|moment|korrigiere|nee links|nee rechts|nee vorne|nee hinten|nein links|nein rechts|nein vorne|nein hinten|verwechselt|quark|blödsinn|falsch abgelesen|stimmt nicht|war falsch|verzählt',
  meant:
    'meinte|gemeint|ich meinte|ich meine|meine zylinder|sollte heißen|soll heißen|muss heißen|heißt|statt|sondern|eigentlich|nicht|war|waren|es waren|es war|richtig ist|vielmehr|besser gesagt',
  'wait-for':
    'warte|warten|wartet|warten auf|warte auf|muss warten|müssen warten|noch nicht da|nicht da|nicht geliefert|falsche geliefert|falsch geliefert|falsches geliefert|falsche teile|falsches teil|passen nicht|passt nicht|lieferung fehlt|nicht gekommen|nicht angekommen|nicht lieferbar|in rückstand|im rückstand|steht still|gestoppt bis|schlüssel fehlt|habe kein|haben kein|kein material|ersatzteil fehlt|abgelaufen|liegt lahm|hänge fest|hängen fest|zu kurz|zu lang|zu dick|zu dünn|zu groß|zu klein|passen net',
  cannot:
    'sitzt fest|sitzen fest|geht nicht|gehen nicht|bekomme nicht|bekomm nicht|kriege nicht|krieg nicht|lässt sich nicht|lassen sich nicht|festgefressen|festgerostet|festgegammelt|kommt nicht raus|kommt nicht runter|kommt nicht|will nicht|wollen nicht|rührt sich nicht|bewegt sich nicht|hängt fest|steckt fest|unmöglich|keine chance|komme nicht ran|komm nicht ran|nicht möglich|fest wie sau|geht nicht auf|geht nicht raus|geht nicht los|geht nicht ab|krieg|kriege|kriegen nicht|bekommen nicht|sitzt zu fest',
  'out-of-stock':
    'im lager|auf lager|im regal|vorrätig|mehr da|mehr im lager|vorhanden|im haus|verfügbar',
  resume:
    'sind da|ist da|sind jetzt da|ist jetzt da|geht weiter|es geht weiter|weiter gehts|angekommen|eingetroffen|wieder dabei|machen weiter|mache weiter|mach weiter|sind gekommen|ist gekommen|wurden geliefert|wurde geliefert|endlich da',
  'clock-on':
    'eingestempelt|stemple ein|stempel ein|stempel mich ein|schichtbeginn|fange an zu arbeiten|zurück aus der pause|aus der pause zurück|wieder da aus der pause|pause vorbei|pause zu ende|pause ist um|bin wieder da|melde mich an|einstempeln',
  'clock-off':
    'ausgestempelt|stemple aus|stempel aus|stempel mich aus|schichtende|mache feierabend|mach feierabend|machen feierabend|bin in der pause|bin in pause|mache pause|mach pause|machen pause|gehe in die pause|geh in die pause|gehe in pause|geh in pause|geh heim|gehe heim|gehe nach hause|geh nach hause|melde mich ab|ausstempeln|mach mittag|mache mittag|gehe mittag|bin weg für heute|schluss für heute',
  again: 'noch mal|noch einmal|erneut|zum zweiten mal|ein zweites mal|von vorne',
  yes: 'ja|jo|joa|jawohl|jep|jup|jap|yes|genau|stimmt|richtig|klar|korrekt|ok|okay|fertig|ist fertig|sind fertig|passt|ja ist es|ja sind sie|ist erledigt|hab ich|habe ich|haben wir|das war ich|sicher|jau|freilich|selbstverständlich|positiv|ja chef|y|j',
  'no-answer':
    'nein|nee|nö|ne|noch nicht|nein noch nicht|nicht|nix da|negativ|nope|no|leider nicht|leider nein|nicht wirklich|ist es nicht|sind sie nicht|nein chef',
  neither:
    'nichts davon|keins davon|keines davon|keine davon|weder noch|etwas anderes|was anderes|keins|keiner davon|kein davon',
  same: 'auch|ebenso|ebenfalls|dito|das gleiche|das selbe|dasselbe|genauso|gleichfalls|gleiches',
  'other-side': 'andere seite|anderen seite|andere|gegenüber|die andere|gegenseite',
  'the-lot':
    'das war alles|das waren alle|der rest|rest|alle zusammen|das wars|die restlichen|alle durch',
  defect:
    'leckage|leck|leckt|undicht|undichtigkeit|tropft|tropfen|riss|risse|gerissen|rissig|verschlissen|verschleiß|riefen|riefe|gebrochen|bruch|verbogen|rost|rostig|verrostet|korrodiert|ausgeschlagen|klemmt|klemmen|abgebrochen|abgerissen|beschädigt|kaputt|defekt|verlust|geräusch|geräusche|heult|brummt|rumpelt|rau|fressspuren|angelaufen|verglast|nass|ölig|fehler|war durch|ist durch|durch bis|sind durch|schwergängig|eingelaufen|porös|verzogen|schwitzt|suppt|ruckelt|rupft|rutscht|schleift|vibriert|quietscht|gefressen|ausgerissen|ausgefranst|rundgedreht|zischt|blau|verbrannt|gequetscht|gescheuert|scheuert|hält keinen|hält nicht|hält keinen druck|zu wenig|zu viel|außerhalb|ausserhalb|nicht in ordnung|kratzer|delle|locker|lose|schief|verdreckt|brüchig|bis auf die nieten|bis aufs metall|macken|spröde|tot|sifft|zittert|dreckig|verschmutzt|beläge runter auf|belag runter auf|abgefahren|abgenutzt',
  found: 'gefunden|festgestellt|entdeckt|gesehen|gemerkt|aufgefallen',
  needs: 'braucht|brauchen|muss neu',
  approx: 'etwa|ca|circa|zirka|ungefähr|rund|knapp|gut|fast|so um die|um die|grob|so',
  under: 'knapp|fast|unter|weniger als|etwas unter|knapp unter|nicht ganz',
  over: 'gut|über|etwas über|knapp über|mehr als',
  between: 'zwischen',
  'range-to': 'bis',
  and: 'und|&|+|plus|mit|sowie',
  chatter:
    'haha|lol|moin|servus|mahlzeit|danke|bitte|prima|super|feierabend|wochenende|kaffee|bier|brötchen|fußball|urlaub|wetter|kantine|frau|kinder|handy|grillen|geburtstag',
  private:
    'kaffee|brötchen|bier|rücken|mein rücken|meine arme|mein arm|mein kopf|meine knie|mein knie|mein auto|mein rad|mein fahrrad|meine hose|meiner hose|mein bike|mein motorrad|meine frau|mein mann|meine schwiegermutter|zu hause|zuhause|daheim|diät|meiner diät|fußball|bundesliga|spielstand|elfmeter|halbzeit|urlaub|lotto|geburtstag|wochenende|grillen|finger|meine finger|mein finger|mein garten|mein rasenmäher|mein moped|tank meines|waschmaschine|spülmaschine|kühlschrank|fernseher|meine katze|mein hund|das spiel|die kantine|kantine|pizza|wurst|döner|kuchen|feier|mein bus kam|in der halle|mein nachbar|meine nachbarin|der chef steht|schwiegermutter|meine tochter|mein sohn|magen|bauch|meine wohnung|mein keller|heizung zuhause|bekommt flügel|ich stehe unter druck|steh unter druck|chef steht unter druck|scheibe brot|scheibe wurst|scheibe käse|brot|gähn|raus bei mir|lager macht|lager hat zu|im keller|fahrrad|wohnwagen|wohnmobil|anhänger meines|dampfreiniger|hochdruckreiniger|fehlt eine mutter im|mutter im kasten|schraube locker bei|eine schraube locker|schrauben locker hat|schraube locker hat|kette meines',
  'harmless-no':
    'kein problem|keine probleme|keine sorge|kein ding|kein thema|kein stress|keine eile|keine frage|kein witz|nicht schlecht|kein druck|kein druck mehr|keine luft mehr|nicht nur|keine hektik|macht nichts|nicht zu glauben|ohne probleme|kein wunder|nichts zu danken|gar kein problem|kein rest|keine zeit',
  conjunction:
    'und|aber|denn|weil|sowie|während|oder|jedoch|also|sondern|dann|danach|außerdem|ausserdem|dafür|wobei|obwohl|doch|anschließend',
  'wrong-job':
    'falscher auftrag|gehört zu auftrag|war für auftrag|ist für auftrag|gehört zu|war für',
  all: 'alle|jede|jeder|jedes|sämtliche|komplett|ganze|rundum|überall',
  both: 'beide|das paar|ein paar|beidseitig',
  none: 'keine|keins|nicht eine|nicht einer|keine einzige|kein einziger|kein einziges',
  'other-vehicle':
    'anderen bus|anderer bus|anderen lkw|anderer lkw|beim anderen|am anderen|nebenan|auf der werkbank|bestellt|im regal|aus dem regal|geliefert|auf palette|auf der palette|anderes fahrzeug|am alten bus|nachbarbühne|auf dem hof',
  than: 'fester als|dichter als|wie ein|wie eine|wie der|wie die',
  'hand-tight':
    'handfest|von hand|nur von hand|mit der hand|nur handfest|fingerfest|beigezogen|nur angelegt',
  remark: 'info|hinweis|zur info|achtung',
  'set-phrase':
    'heute morgen|am morgen|guten morgen|gestern morgen|nicht vergessen|noch mal|noch einmal|gleich null|gleich viel|bis auf null|noch was|auf jeden fall|so gut wie neu|noch dazu|noch besser|auch noch|nur noch mal|zu früh|zu spät|kommt gut|noch ein tag',
};
