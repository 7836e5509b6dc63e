import type { Catalogue } from './entry.ts';

export const GERMAN_DRAWN = {
  high: 'hoch',
  low: 'tief',
  left: 'links',
  right: 'rechts',
  'Plot of the end on the face: {fletched} fletched, {bare} bare.':
    'Bild der Passe auf der Auflage: {fletched} befiedert, {bare} Rohschäfte.',
  "The bare shafts' mean lies {up} and {across} of the fletched mean.":
    'Die Mitte der Rohschäfte liegt {up} und {across} von der Mitte der befiederten.',
  'Line of impact over {n} distances, drifting {drift} mm per metre to the right':
    'Linie der Treffer über {n} Entfernungen, wandert {drift} mm je Meter nach rechts',
  'Line of impact: too few distances yet': 'Linie der Treffer: noch zu wenige Entfernungen',
  'No groups to show yet.': 'Noch keine Gruppen zu zeigen.',
  'Fletched, from above': 'Befiederte, von oben',
  'Where the fletched arrows land, from above': 'Wo die befiederten Pfeile treffen, von oben',
  'left, {unit} from the aim, right': 'links, {unit} vom Zielpunkt, rechts',
  'On a journey: {bow}': 'Auf Reisen: {bow}',
  'On a journey with “{setUp}”': 'Auf Reisen mit „{setUp}“',
  'Before you leave': 'Vor der Abreise',
  'On arrival, in this order': 'Bei der Ankunft, in dieser Reihenfolge',
  '{bow}, {hand}. Bare shafts wanted: {preferred}.':
    '{bow}, {hand}. Rohschäfte gewünscht: {preferred}.',
  '{bow}, {hand}, written down on {day}. Bare shafts wanted: {preferred}.':
    '{bow}, {hand}, aufgeschrieben am {day}. Rohschäfte gewünscht: {preferred}.',
  'Back to {setUp}: {bow}': 'Zurück zu {setUp}: {bow}',
  'Back to “{setUp}”': 'Zurück zu „{setUp}“',
  'Already as it should be': 'Schon, wie es sein soll',
  'The work, in this order': 'Die Arbeit, in dieser Reihenfolge',
  Mind: 'Beachte',
  'Tighter group': 'Engere Gruppe',
  'second {times} times as wide': 'zweites {times}-mal so weit',
  better: 'besser',
  'Nothing to compare yet.': 'Noch nichts zu vergleichen.',
  undecided: 'offen',
  'the first of this bow': 'das erste dieses Bogens',
  'Set-up': 'Setup',
  'what changed': 'was sich änderte',
  '{n} arrows': { one: '{n} Pfeil', other: '{n} Pfeile' },
  'not shot yet': 'noch nicht geschossen',
  '{n} set-ups, newest first, with spread and points an arrow':
    '{n} Setups, das neueste zuerst, mit Streuung und Ringen je Pfeil',
  'Timeline of {sessions} sessions with {changes} changes of set-up':
    'Zeitverlauf von {sessions} Einheiten mit {changes} Wechseln des Setups',
  'Nothing to show yet: keep an end first.': 'Noch nichts zu zeigen: Behalte zuerst eine Passe.',
  'Spread against distance for {names}': 'Streuung über der Entfernung für {names}',
  'Fletched spread, {unit}': 'Befiederte, Streuung in {unit}',
  'Spread of fletched arrows, {unit}': 'Streuung der befiederten Pfeile, {unit}',
  ': slope {slope}': ': Steigung {slope}',
  'No name': 'Ohne Namen',
  '{total} with {n} arrows': { one: '{total} mit {n} Pfeil', other: '{total} mit {n} Pfeilen' },
  average: 'Durchschnitt',
  spread: 'Streuung',
  'Spread of fletched arrows, mrad (mm per metre)':
    'Streuung der befiederten Pfeile, mrad (mm je Meter)',
  'Fletched spread, mrad': 'Befiederte, Streuung in mrad',
  'Bare shafts from fletched, mrad': 'Rohschäfte zu befiederten, mrad',
  'Bare shafts, mrad': 'Rohschäfte, mrad',
  'not tagged': 'nicht zugeordnet',
  'old hole': 'altes Loch',
  "The rules of your club and range come first, and a qualified coach's word outweighs this sheet.":
    'Die Regeln von Verein und Platz gehen vor, und das Wort eines ausgebildeten Trainers wiegt mehr als dieses Blatt.',
  'up#series': 'hoch',
} satisfies Catalogue;
