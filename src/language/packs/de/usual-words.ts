// What is said in any workshop of a work that its title names: "Keile liegen", "alles dicht", "läuft". Each row holds
// for the steps whose title has all its words; a bar means one of them, and "~" stands for the beginning of a word.
import type { UsualWords } from '../../pack.ts';

const row = (of: string, says: string, not?: string): UsualWords => ({
  of: of.split(' ').map((one) => one.split('|')),
  says: says.split(', '),
  ...(not === undefined ? {} : { not: not.split(' ') }),
});

export const usualWords: readonly UsualWords[] = [
  row(
    '~keil|~verkeil',
    'verkeilt, Keile drin, Keile drunter, Keile liegen, Keile gelegt, Keile sind gelegt, Keile liegen vorne und hinten, Räder verkeilt, Rad verkeilt, vorne verkeilt, hinten verkeilt, Unterlegkeile drin, Unterlegkeile drunter',
    '~riemen',
  ),
  row(
    '~böcke|~bock setzen|stellen',
    'auf Böcken, auf den Böcken, steht auf Böcken, steht auf den Böcken, sitzt auf Böcken, Böcke drunter, Böcke stehen, Böcke stehen drunter, steht sicher auf Böcken',
  ),
  row('anheben|~aufbocken', 'angehoben, hochgebockt, in der Luft, hängt in der Luft'),
  row(
    'ablassen|absenken ~achse|~rahmen|~fahrzeug',
    'Böcke raus, Böcke weg, wieder am Boden, wieder auf dem Boden, steht wieder auf den Rädern, wieder auf den Rädern, steht wieder am Boden',
  ),
  row(
    '~dichtheit|~dicht|~leck|~lecks',
    'alles dicht, alles trocken, dicht, trocken, nichts feucht, nichts tropft, nichts leckt, keine Lecks, kein Leck, keine Undichtigkeit, alles dicht unten, alles trocken unten, überall trocken, überall dicht',
    '~dichtung ~wellendicht ~dichtmasse ~dichtfl',
  ),
  row(
    '~riss|~risse',
    'keine Risse, kein Riss, rissfrei, ohne Risse, keine Risse gefunden, ohne Risse gefunden',
  ),
  row(
    'motor starten',
    'läuft, Motor läuft, er läuft, läuft rund, läuft sauber, läuft wieder, läuft gut, ist angesprungen, sofort angesprungen, springt an',
  ),
  row(
    '~probefahrt',
    'Probefahrt gemacht, Probe gefahren, Probefahrt ok, Probefahrt fertig, Probefahrt gut, Probefahrt war gut, Probefahrt in Ordnung, Runde gefahren',
  ),
  row(
    '~batterie|~batterien abklemmen|trennen',
    'Batterie ab, Batterien ab, Batterie getrennt, Hauptschalter aus, Hauptschalter ist aus, Strom weg, Strom ist weg',
  ),
  row(
    '~batterie|~batterien anklemmen|anschließen',
    'Batterie dran, Batterien dran, Batterie wieder dran, Batterien wieder dran, Hauptschalter an, Strom wieder da',
  ),
  row(
    'zweite person',
    'Zweitprüfung gemacht, Zweitprüfung fertig, Zweitprüfung erledigt, Zweitprüfung ok, Gegenprüfung gemacht',
  ),
  row('~entlüften|~entlüftet', 'entlüftet, keine Luft mehr, keine Blasen mehr'),
  row('abkühlen', 'abgekühlt, ist kalt, ganz kalt, kalt genug'),
  row(
    '~luft|~druckluft ablassen|entleeren',
    'Luft raus, Luft ist raus, Kessel leer, Kessel sind leer, Luft abgelassen, keine Luft mehr drin',
  ),
  row('luft aufbauen', 'Luft ist da, Luft da, Luft aufgebaut, Druck aufgebaut, Druck ist da'),
  row('~abschmieren', 'abgeschmiert, geschmiert'),
];
