import type { Catalogue } from './entry.ts';

export const GERMAN_EVENING = {
  Squad: 'Mannschaft',
  'Archer not named': 'Schütze nicht genannt',
  '{some} of {all}': '{some} von {all}',
  'nothing could be read': 'nichts war auswertbar',
  Archer: 'Schütze',
  'Shot with': 'Geschossen mit',
  Ends: 'Passen',
  Arrows: 'Pfeile',
  'Points an arrow': 'Ringe je Pfeil',
  Spread: 'Streuung',
  'Bare shafts': 'Rohschäfte',
  'Need a look': 'Anzusehen',
  '{ends}, {arrows} arrows, {points} points{parted}, {average} a fletched arrow; spread {spread} {unit} per axis.':
    '{ends}, {arrows} Pfeile, {points} Ringe{parted}, {average} je befiedertem Pfeil; Streuung {spread} {unit} je Achse.',
  '{n} ends': { one: '{n} Passe', other: '{n} Passen' },
  '{n} of these {all} ends still need a look': {
    one: '{n} dieser {all} Passen ist noch anzusehen',
    other: '{n} dieser {all} Passen sind noch anzusehen',
  },
  'correct them before anything is changed on the bow.':
    'Berichtige sie, bevor am Bogen etwas geändert wird.',
  Session: 'Einheit',
  End: 'Passe',
  Time: 'Zeit',
  Points: 'Ringe',
  Values: 'Werte',
  'Bare from fletched': 'Rohschäfte zu befiederten',
  '{right} right, {up} up': '{right} rechts, {up} hoch',
  'Nothing needs a look.': 'Nichts ist anzusehen.',
  'Needs a look': 'Anzusehen',
  'X inner ten, ? line call. Which arrows are bare shafts is a suggestion until a person has confirmed it. A photo never overrules a judge at the boss.':
    'X Innenzehn, ? auf der Linie. Welche Pfeile Rohschäfte sind, ist ein Vorschlag, bis jemand es bestätigt hat. Ein Foto überstimmt nie den Kampfrichter an der Scheibe.',
  '{marks} marks for {shot} arrows': '{marks} Treffer bei {shot} Pfeilen',
  'no marks': 'keine Treffer',
  '{n} marks new or old': { one: '{n} Treffer neu oder alt', other: '{n} Treffer neu oder alt' },
  '{n} marks unsure': { one: '{n} Treffer unsicher', other: '{n} Treffer unsicher' },
  'tags guessed': 'Zuordnung geraten',
  '{n} line calls': { one: '{n} auf der Linie', other: '{n} auf der Linie' },
  'There is no photo in it.': 'Es ist kein Foto darin.',
  'Shot with “{bow}”.': 'Geschossen mit „{bow}“.',
  'Files that are no photos were left out: {others}.':
    'Dateien, die keine Fotos sind, wurden ausgelassen: {others}.',
  'The archive is larger than 1 GB: unpack it and choose the folder.':
    'Das Archiv ist größer als 1 GB: Entpack es und wähle den Ordner.',
  '"{file}" inflates as no photo does: the archive was refused.':
    '„{file}“ bläht sich auf, wie es kein Foto tut: Das Archiv wurde abgelehnt.',
  'The archive unpacks to more than 2 GB: split it.':
    'Das Archiv wird entpackt größer als 2 GB: Teil es auf.',
  'The file is no zip archive, or a damaged one.': 'Die Datei ist kein Zip-Archiv oder beschädigt.',
  'Files in the archive that are no photos were left out: {others}.':
    'Dateien im Archiv, die keine Fotos sind, wurden ausgelassen: {others}.',
  "There are more than {most} files: choose the evening's alone.":
    'Es sind mehr als {most} Dateien: Wähle nur die des Abends.',
  'The photos could not be opened: there may be no room left.':
    'Die Fotos ließen sich nicht öffnen: Vielleicht ist kein Platz mehr.',
  '{n} ends kept.': { one: '{n} Passe behalten.', other: '{n} Passen behalten.' },
  'A whole evening': 'Ein ganzer Abend',
  'Drop a folder or a zip archive here. Folders and names say who shot, and with which bow: <b>Juna/soft plunger/3.jpg</b>.':
    'Leg einen Ordner oder ein Zip-Archiv hier ab. Ordner und Namen sagen, wer mit welchem Bogen schoss: <b>Juna/weicher Button/3.jpg</b>.',
  'Beside it, <b>3-before.jpg</b> is from before the end, <b>3-also.jpg</b> from another side. Or say it in the list.':
    'Daneben ist <b>3-vorher.jpg</b> von vor der Passe, <b>3-auch.jpg</b> von einer anderen Seite. Oder sag es in der Liste.',
  'Choose a folder': 'Ordner wählen',
  'Choose photos or a zip archive': 'Fotos oder ein Zip-Archiv wählen',
  'What holds for all': 'Was für alle gilt',
  Results: 'Ergebnisse',
  '{some} of {all} need a look': '{some} von {all} sind anzusehen',
  '{n} not read yet': '{n} noch nicht ausgewertet',
  'Keep the {n} that need no look': {
    one: 'Die eine behalten, die nicht anzusehen ist',
    other: 'Die {n} behalten, die nicht anzusehen sind',
  },
  'No end of this archer comes after it.': 'Keine Passe dieses Schützen kommt danach.',
  '{photo} is from before {next}: read again.': '{photo} ist von vor {next}: wird neu ausgewertet.',
  'Results, table': 'Ergebnisse, Tabelle',
  'Look at': 'Ansehen',
  'This photo is': 'Dieses Foto ist',
  'Other side of the last': 'Andere Seite der vorigen',
  'No end of this archer was read before it.':
    'Vor ihm wurde keine Passe dieses Schützen ausgewertet.',
  '{photo} is joined to {last}.': '{photo} ist mit {last} verbunden.',
  'Archer of {photo}': 'Schütze von {photo}',
  'being read': 'wird ausgewertet',
  waits: 'wartet',
  nothing: 'nichts',
  'Before the next': 'Vor der nächsten',
  'Sheets and tables': 'Blätter und Tabellen',
  'Sheets to print': 'Blätter zum Drucken',
  'Table (CSV)': 'Tabelle (CSV)',
  'Results (JSONL)': 'Ergebnisse (JSONL)',
} satisfies Catalogue;
