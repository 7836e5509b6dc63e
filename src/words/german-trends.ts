import type { Catalogue } from './entry.ts';

export const GERMAN_TRENDS = {
  'Keep one sight mark and one aim.': 'Behalte ein Visier und einen Zielpunkt bei.',
  'The line of impact bends: look at the plunger first, then shoot the series again.':
    'Die Linie der Treffer ist krumm: Sieh zuerst nach dem Button, dann schieß die Reihe noch einmal.',
  'The impacts drift to the right by {drift} {unit} (90 %: {low} to {high}): look at the centre shot, change it in small steps, shoot the series again.':
    'Die Treffer wandern nach rechts, {drift} {unit} (90 %: {low} bis {high}): Sieh nach dem Centershot, ändere ihn in kleinen Schritten, schieß die Reihe noch einmal.',
  'The impacts drift to the left by {drift} {unit} (90 %: {low} to {high}): look at the centre shot, change it in small steps, shoot the series again.':
    'Die Treffer wandern nach links, {drift} {unit} (90 %: {low} bis {high}): Sieh nach dem Centershot, ändere ihn in kleinen Schritten, schieß die Reihe noch einmal.',
  'The line of impact is straight within {half} {unit}: centre shot and plunger agree.':
    'Die Linie der Treffer ist gerade, auf {half} {unit} genau: Centershot und Button passen zusammen.',
  'Whether the impacts drift is undecided: more arrows at the nearest and the furthest distance tell most.':
    'Ob die Treffer wandern, ist offen: Mehr Pfeile auf der kürzesten und der weitesten Entfernung sagen am meisten.',
  '{n} ends have no distance: until you say it only their scores count.': {
    one: '{n} Passe hat keine Entfernung: Bis du sie sagst, zählt nur ihr Ergebnis.',
    other: '{n} Passen haben keine Entfernung: Bis du sie sagst, zählen nur ihre Ergebnisse.',
  },
  'Shoot groups at {least} distances: fewer tell no law.':
    'Schieß Gruppen auf {least} Entfernungen: Weniger sagen kein Gesetz.',
  'Shoot groups at {n} more distances: below {least} a line fits always, and tells nothing.': {
    one: 'Schieß Gruppen auf noch einer Entfernung: Unter {least} passt eine Linie immer und sagt nichts.',
    other:
      'Schieß Gruppen auf noch {n} Entfernungen: Unter {least} passt eine Linie immer und sagt nichts.',
  },
  'Shoot groups farther apart: from {nearest} to {furthest} hardly anything grows. {enough} would do.':
    'Schieß Gruppen weiter auseinander: Von {nearest} bis {furthest} wächst kaum etwas. {enough} würden reichen.',
  'The two set-ups have no distance and face in common yet: shoot both on one day, by turns.':
    'Die beiden Setups haben noch keine Entfernung und Auflage gemeinsam: Schieß beide an einem Tag, abwechselnd.',
  '{points} points an arrow': '{points} Ringe je Pfeil',
  'They score alike, as far as it matters.': 'Sie bringen gleich viele Ringe, soweit es zählt.',
  'Which scores better is undecided: the second leads by {size} ({p}).':
    'Welches mehr Ringe bringt, ist offen: Das zweite führt um {size} ({p}).',
  'Which scores better is undecided: the first leads by {size} ({p}).':
    'Welches mehr Ringe bringt, ist offen: Das erste führt um {size} ({p}).',
  'The second scores better by {size} ({p}).': 'Das zweite bringt mehr, um {size} ({p}).',
  'The first scores better by {size} ({p}).': 'Das erste bringt mehr, um {size} ({p}).',
  'They group alike.': 'Sie gruppieren gleich.',
  'Which groups tighter is undecided: the second has {times} times the spread of the first ({p} that it is tighter).':
    'Welches enger gruppiert, ist offen: Das zweite streut {times}-mal so weit wie das erste ({p}, dass es enger ist).',
  'The second groups tighter: the second has {times} times the spread of the first ({p}).':
    'Das zweite gruppiert enger: Es streut {times}-mal so weit wie das erste ({p}).',
  'The first groups tighter: the second has {times} times the spread of the first ({p}).':
    'Das erste gruppiert enger: Das zweite streut {times}-mal so weit wie das erste ({p}).',
  'More than {most} arrows with each would be needed.':
    'Mehr als {most} Pfeile mit jedem wären nötig.',
  'About {more} more arrows with each, by turns on the same days, would probably decide it.':
    'Etwa {more} weitere Pfeile mit jedem, abwechselnd an denselben Tagen, würden es wahrscheinlich entscheiden.',
  'Never shot on one day: what the days did cannot be told from what the set-ups do. Shoot both on the same day, in turns: first, second, second, first.':
    'Nie an einem Tag geschossen: Was die Tage taten, lässt sich nicht von dem trennen, was die Setups tun. Schieß beide am selben Tag, abwechselnd: erstes, zweites, zweites, erstes.',
  'Twice as far, groups are {times} times as wide (90 %: {low} to {high}).':
    'Doppelt so weit weg sind Gruppen {times}-mal so weit (90 %: {low} bis {high}).',
  'None lands apart more than chance allows.':
    'Keiner trifft weiter abseits, als der Zufall zulässt.',
  'With the group: {arrows}.': 'Bei der Gruppe: {arrows}.',
  'Open: {arrows}.': 'Offen: {arrows}.',
  'Never shot together, so not compared: {arrows}. Mix them in an end.':
    'Nie zusammen geschossen, also nicht verglichen: {arrows}. Misch sie in einer Passe.',
  '{arrow} (more than {most} to tell)': '{arrow} (mehr als {most}, um es zu sagen)',
  '{arrow} ({more} more to tell)': '{arrow} (noch {more}, um es zu sagen)',
  'Archers side by side': 'Schützen nebeneinander',
  'Archers, table': 'Schützen, Tabelle',
  'Bare shafts lately': 'Rohschäfte zuletzt',
  'No trends yet': 'Noch keine Trends',
  'Keep a few ends: spread, offset and scores are drawn here.':
    'Behalte ein paar Passen: Streuung, Versatz und Ergebnisse werden hier gezeichnet.',
  'Photograph a face': 'Auflage fotografieren',
  Trends: 'Trends',
  'Open it under <b>Kept</b> to say it.': 'Öffne sie unter <b>Passen</b>, um sie zu nennen.',
  'Over time': 'Über die Zeit',
  'Averages leave bare shafts out.': 'Durchschnitte lassen Rohschäfte weg.',
  // Where there is no room for the whole word.
  'Distance#column': 'Entfer\u00adnung',
  'Spread against distance': 'Streuung über der Entfernung',
  'Line of impact': 'Linie der Treffer',
  'Bare shaft by bare shaft': 'Rohschaft für Rohschaft',
  'Arrow by arrow': 'Pfeil für Pfeil',
  '{what}, table': '{what}, Tabelle',
  Number: 'Nummer',
  Shots: 'Schüsse',
  'From the others at {distance}': 'Von den anderen auf {distance}',
  '{n} more to tell': 'noch {n}, um es zu sagen',
  'Two set-ups side by side': 'Zwei Setups nebeneinander',
  First: 'Erstes',
  Second: 'Zweites',
  'Sessions, table': 'Einheiten, Tabelle',
  Sessions: 'Einheiten',
  Day: 'Tag',
  'not said': 'nicht gesagt',
  'Groups grow in step with distance: the arrows leave the bow as well as you hold it.':
    'Gruppen wachsen im Gleichschritt mit der Entfernung: Die Pfeile verlassen den Bogen so gut, wie du ihn hältst.',
  'Groups grow faster than distance: look for vanes that touch, arrows that settle late or differ, wind, a harder sight picture.':
    'Die Gruppen wachsen schneller als die Entfernung: Sieh nach Federn, die anstreifen, Pfeilen, die spät ruhig werden oder sich unterscheiden, Wind, einem schwereren Visierbild.',
  'Groups grow slower than distance: near ones may suffer from arrows not yet settled, from holding off, or from less care.':
    'Die Gruppen wachsen langsamer als die Entfernung: Nahe leiden vielleicht unter Pfeilen, die noch nicht ruhig sind, unter Danebenhalten oder weniger Sorgfalt.',
  'Whether groups grow in step with distance is undecided: more arrows at the nearest and the furthest distance tell most.':
    'Ob Gruppen im Gleichschritt mit der Entfernung wachsen, ist offen: Mehr Pfeile auf der kürzesten und der weitesten Entfernung sagen am meisten.',
} satisfies Catalogue;
