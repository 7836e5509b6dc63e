import type { Catalogue } from './entry.ts';

export const GERMAN_VERDICT = {
  'as wanted': 'wie gewünscht',
  '{what}: {how}': '{what}: {how}',
  'over {p}': 'über {p}',
  'Which are the bare shafts?': 'Welche sind die Rohschäfte?',
  'The photo does not show it. These are the likeliest, by where the arrows lie.':
    'Das Foto zeigt es nicht. Das sind die wahrscheinlichsten, nach der Lage der Pfeile.',
  'Bare shafts: {marks}': 'Rohschäfte: {marks}',
  'Neither: check the tags': 'Keins davon: Zuordnung prüfen',
  'mark {number}': 'Treffer {number}',
  Verdict: 'Befund',
  fletched: 'befiedert',
  bare: 'Rohschaft',
  'true centre of the bare shafts, 90 % region': 'wahre Mitte der Rohschäfte, 90-%-Bereich',
  'with your last {ends} ends': 'mit deinen letzten {ends} Passen',
  'plate: {size} at {distance}, to scale': 'Teller: {size} auf {distance}, maßstäblich',
  'near enough to where bare shafts are wanted': 'nahe genug am Wunsch für die Rohschäfte',
  'Say the distance to judge the offset against plate and dead zone.':
    'Sag die Entfernung, dann misst sich der Versatz an Teller und Toleranzbereich.',
  Distance: 'Entfernung',
  Groups: 'Gruppen',
  Group: 'Gruppe',
  'Spread σ': 'Streuung σ',
  'Mean radius': 'Mittlerer Radius',
  Widest: 'Weiteste',
  Fletched: 'Befiedert',
  Bare: 'Rohschäfte',
  'Keep this end': 'Diese Passe behalten',
  'Photograph the next': 'Die nächste fotografieren',
  'No arrows marked yet': 'Noch keine Pfeile eingezeichnet',
  'No fletched arrows tagged: nothing to compare with':
    'Keine befiederten Pfeile zugeordnet: nichts zum Vergleichen',
  'No bare shafts tagged: this end says nothing about the bow':
    'Keine Rohschäfte zugeordnet: Diese Passe sagt nichts über den Bogen',
  'Undecided: this could be chance': 'Offen: Das kann Zufall sein',
  'Nothing to change': 'Nichts zu ändern',
  'Bare shafts {side}: {sure}': 'Rohschäfte {side}: {sure}',
  'Bare shafts {one} and {two}: {sure}': 'Rohschäfte {one} und {two}: {sure}',
  'Bare shafts {one} ({sureOfOne}) and {two} ({sure})':
    'Rohschäfte {one} ({sureOfOne}) und {two} ({sure})',
  'under {p}': 'unter {p}',
  'Within the plate that plunger and nocking point can trim ({p}).':
    'Innerhalb des Tellers, den Button und Nockpunkt ausgleichen können ({p}).',
  'Beyond the plate that plunger and nocking point can trim ({p}).':
    'Außerhalb des Tellers, den Button und Nockpunkt ausgleichen können ({p}).',
  '{up} and {across} mrad': '{up} und {across} mrad',
  'Offset of the bare group: {up}, {across}{at}.': 'Versatz der Rohschäfte: {up}, {across}{at}.',
  'What to do': 'Was zu tun ist',
  'Leave it as it is': 'Lass es, wie es ist',
  'What to do, in this order': 'Was zu tun ist, in dieser Reihenfolge',
  'Why: {reason}': 'Warum: {reason}',
  Cautions: 'Vorsicht',
  '<b>{fletched} fletched and {bare} bare more</b> would settle it.':
    '<b>Noch {fletched} befiederte und {bare} Rohschäfte</b> würden es klären.',
  milliradian: 'Milliradiant',
  plate: 'Teller',
  'dead zone': 'Toleranzbereich',
  'A milliradian (mrad) is an angle: 1 mm at 1 m, 30 mm at 30 m. It says the same of a bow at every distance.':
    'Ein Milliradiant (mrad) ist ein Winkel: 1 mm auf 1 m, 30 mm auf 30 m. Er sagt auf jeder Entfernung dasselbe über einen Bogen.',
  'The plate is a circle around the middle of the fletched arrows, {size} across at {distance}, to scale elsewhere. Plunger and nocking point can bring in bare shafts inside it; outside it draw weight or arrow do not suit.':
    'Der Teller ist ein Kreis um die Mitte der befiederten Pfeile, {size} weit auf {distance}, sonst maßstäblich. Rohschäfte darin können Button und Nockpunkt hereinholen; außerhalb passen Zuggewicht oder Pfeil nicht.',
  'The dead zone is how near is near enough: within {zone} mrad of where you want the bare shafts no change makes the bow better.':
    'Der Toleranzbereich sagt, wie nah nah genug ist: Bis {zone} mrad neben dem, wo du die Rohschäfte willst, macht keine Änderung den Bogen besser.',
} satisfies Catalogue;
