import type { Catalogue } from './entry.ts';

export const GERMAN_TUNING = {
  'Read the bow once more and compare it with the readings here; write down what differs.':
    'Lies den Bogen noch einmal ab und vergleiche mit den Werten hier; schreib auf, was abweicht.',
  'Measure and write down: {parts}.': 'Miss und schreib auf: {parts}.',
  'Mark where nocking point, plunger and rest stand, so that you see at once what has moved.':
    'Markiere, wo Nockpunkt, Button und Pfeilauflage stehen: So siehst du, was sich verstellt hat.',
  'Pack a spare string that is made and shot in, spare vanes and nocks, the plunger’s tool, a square and a rule.':
    'Pack eine fertige, eingeschossene Ersatzsehne ein, Ersatzfedern und -nocken, das Werkzeug für den Button, einen Checker und ein Maßband.',
  'Keep an end with bare shafts, to compare with on arrival.':
    'Behalte eine Passe mit Rohschäften, um sie bei der Ankunft zu vergleichen.',
  'Look over limbs, string, riser and every shaft before anything is strung or shot.':
    'Sieh Wurfarme, Sehne, Mittelstück und jeden Schaft an, bevor gespannt oder geschossen wird.',
  'String the bow, and wait until it has the temperature of the place.':
    'Spann den Bogen auf und warte, bis er die Temperatur des Platzes hat.',
  '{name}: still {reading}?': '{name}: immer noch {reading}?',
  'Try every screw and lock nut: snug, never forced.':
    'Prüfe jede Schraube und Kontermutter: handfest, nie mit Gewalt.',
  'Shoot fletched arrows first, from close; then bare shafts, and compare with the end from home.':
    'Schieß aus der Nähe erst befiederte Pfeile, dann Rohschäfte; vergleiche mit der Passe von daheim.',
  'read by lines and a dial': 'nach Linien und Trommel abgelesen',
  '{marks} marks a turn': '{marks} Marken je Umdrehung',
  'Not said, so taken as usual: {unsaid}.':
    'Nicht gesagt, deshalb wie üblich angenommen: {unsaid}.',
  'Read the bow as it is now and compare it with the list you came from.':
    'Lies den Bogen ab, wie er jetzt ist, und vergleiche mit dem Setup, von dem du kommst.',
  'Read the bow as it is now and keep that as a set-up, so that you can come back.':
    'Lies den Bogen ab, wie er jetzt ist, und behalte das als Setup, damit du zurück kannst.',
  '{name}: set to {reading}.': '{name}: auf {reading} stellen.',
  '{name}: set to {reading} (now {from}: {change}).':
    '{name}: auf {reading} stellen (jetzt {from}: {change}).',
  'Nothing differs: there is nothing to change.': 'Nichts weicht ab: Es ist nichts zu ändern.',
  'Lock every part you loosened: main thread first, then the lock nut; snug, never forced.':
    'Zieh alles wieder fest, was du gelöst hast: erst das Hauptgewinde, dann die Kontermutter; handfest, nie mit Gewalt.',
  'Measure {parts} once more: one moves the other.':
    'Miss noch einmal nach: {parts}. Eins verstellt das andere.',
  'Shoot fletched arrows first, from close; then bare shafts, and keep that end.':
    'Schieß zuerst befiederte Pfeile aus der Nähe, dann Rohschäfte, und behalte diese Passe.',
  '{from}, now {to}': '{from}, jetzt {to}',
  '{one} and {two}': '{one} und {two}',
  level: 'ohne Versatz',
  'This set-up belongs to another bow than {bow}.':
    'Dieses Setup gehört zu einem anderen Bogen als {bow}.',
  '{bow} has no adjuster "{adjuster}": add it to the bow first, or leave it out.':
    '{bow} hat keine Einstellung „{adjuster}“: Füge sie erst dem Bogen hinzu oder lass sie weg.',
  "{name}: give the lines that show and the dial's mark.":
    '{name}: Gib die sichtbaren Linien und die Marke der Trommel an.',
  '{name}: the dial has {positions} positions per line, so its mark is 0 to {last}, not {mark}.':
    '{name}: Die Trommel hat {positions} Stellungen je Linie, ihre Marke ist also 0 bis {last}, nicht {mark}.',
  '{name}: the lines are counted from 0, not {line}.':
    '{name}: Die Linien zählen ab 0, nicht {line}.',
  '{name}: it has {lines} lines, so line {line} cannot be.':
    '{name}: Es gibt {lines} Linien, Linie {line} kann nicht sein.',
  '{name}: choose one of {choices}.': '{name}: Wähle eins von {choices}.',
  '{name}: give a number in {unit}.': '{name}: Gib eine Zahl in {unit} an.',
  '{name}: give a number.': '{name}: Gib eine Zahl an.',
  '{name}: {read} cannot be, it is more than zero; check the sign and the unit.':
    '{name}: {read} kann nicht sein, es ist mehr als null; prüfe Vorzeichen und Einheit.',
  '{name}: {read} is below {least}, the least this adjuster allows; check the reading or change its range.':
    '{name}: {read} liegt unter {least}, dem Kleinsten, was hier zulässig ist; prüfe den Wert oder ändere den Bereich.',
  '{name}: {read} is above {most}, the most this adjuster allows; check the reading or change its range.':
    '{name}: {read} liegt über {most}, dem Größten, was hier zulässig ist; prüfe den Wert oder ändere den Bereich.',
  'not read': 'nicht abgelesen',
  '{n} lines, mark {mark}': { one: '{n} Linie, Marke {mark}', other: '{n} Linien, Marke {mark}' },
  '{n} clicks': { one: '{n} Klick', other: '{n} Klicks' },
  '{n} grades': { one: '{n} Stufe', other: '{n} Stufen' },
  'the tags': 'die Zuordnung',
  'Say first which of the marks are the bare shafts.':
    'Sag zuerst, welche Treffer die Rohschäfte sind.',
  'That was guessed from where they lie ({p} for the likeliest way), and what to change stands on it.':
    'Das wurde nach ihrer Lage geraten ({p} für die wahrscheinlichste Möglichkeit), und was zu ändern ist, hängt davon ab.',
  'Look whether "{change}" before {end} is written down the right way round.':
    'Sieh nach, ob „{change}“ vor {end} richtig herum aufgeschrieben ist.',
  'The bare shafts moved since as if it had been {change}. If it was, correct the set-up; what is advised stands on it.':
    'Die Rohschäfte haben sich seither bewegt, als wäre es {change} gewesen. Wenn es so war, berichtige das Setup; der Rat beruht darauf.',
  'which hand': 'die Hand',
  'Say whether the archer shoots right- or left-handed.':
    'Sag, ob mit Rechts- oder Linkshand geschossen wird.',
  'Bare shafts to the right are weak for a right-handed archer and stiff for a left-handed one: the change is the other way round.':
    'Rohschäfte rechts sind bei Rechtshand zu weich und bei Linkshand zu steif: Die Änderung ist dann umgekehrt.',
  'Bare shafts to the left are stiff for a right-handed archer and weak for a left-handed one: the change is the other way round.':
    'Rohschäfte links sind bei Rechtshand zu steif und bei Linkshand zu weich: Die Änderung ist dann umgekehrt.',
  'the distance': 'die Entfernung',
  'Say from how far it was shot.': 'Sag, aus welcher Entfernung geschossen wurde.',
  'Until then only what holds from wherever this face is usually shot can be said.':
    'Bis dahin lässt sich nur sagen, was von überall gilt, woher auf diese Auflage üblicherweise geschossen wird.',
  'Which arrows are bare shafts was guessed.': 'Welche Pfeile Rohschäfte sind, wurde geraten.',
  'From how far it was shot is not said: this holds from {nearest} to {furthest}.':
    'Aus welcher Entfernung geschossen wurde, ist nicht gesagt: Das gilt von {nearest} bis {furthest}.',
  '{size} above': '{size} oberhalb',
  '{size} below': '{size} unterhalb',
  '{size} to the right': '{size} rechts',
  '{size} to the left': '{size} links',
  'By the likeliest tags the bare shafts are {up} and {across} of the fletched arrows{at}':
    'Nach der wahrscheinlichsten Zuordnung liegen die Rohschäfte {up} und {across} der befiederten Pfeile{at}',
  'The bare shafts are {up} and {across} of the fletched arrows{at}':
    'Die Rohschäfte liegen {up} und {across} der befiederten Pfeile{at}',
  '{where}, but with so few arrows that may be chance: shoot more.':
    '{where}, aber bei so wenigen Pfeilen kann das Zufall sein: Schieß mehr.',
  '{where}; beside the spread of these few arrows that may be chance, so nothing is decided{from}.':
    '{where}; neben der Streuung dieser wenigen Pfeile kann das Zufall sein, also ist nichts entschieden{from}.',
  '{where}: where you want them, as closely as these arrows can tell{from}.':
    '{where}: dort, wo du sie haben willst, soweit diese Pfeile es sagen können{from}.',
  '{where}: {up}, {across}{from}.': '{where}: {up}, {across}{from}.',
  'This end alone: {up}, {across}{at}.': 'Diese Passe allein: {up}, {across}{at}.',
  'With your last {ends} ends: {up}; {across}{from}.':
    'Mit deinen letzten {ends} Passen: {up}; {across}{from}.',
  'up or down undecided': 'hoch oder tief offen',
  'left or right undecided': 'links oder rechts offen',
  'from your preferred offset': 'von deinem gewünschten Versatz aus',
  'at {distance}': 'auf {distance}',
  '{size} high': '{size} hoch',
  '{size} low': '{size} tief',
  '{size} right': '{size} rechts',
  '{size} left': '{size} links',
  '{day}, end {number}': '{day}, Passe {number}',
  'Too little to compare the fletched group with your usual spread.':
    'Zu wenig, um die befiederte Gruppe mit deiner üblichen Streuung zu vergleichen.',
  'No record of your usual spread yet: keep your ends, and it will be learned.':
    'Von deiner üblichen Streuung ist noch nichts bekannt: Behalte deine Passen, dann wird sie gelernt.',
  'Your fletched group is {ratio} times as wide as usual for you: settle the shooting before you read the bare shafts.':
    'Deine befiederte Gruppe ist {ratio}-mal so weit wie sonst bei dir: Bring erst das Schießen zur Ruhe, bevor du die Rohschäfte liest.',
  'Your fletched group is tighter than usual for you.':
    'Deine befiederte Gruppe ist enger als sonst bei dir.',
  'Your fletched group is about as wide as usual for you.':
    'Deine befiederte Gruppe ist etwa so weit wie sonst bei dir.',
  'about {change}': 'etwa {change}',
  '{low} or more': '{low} oder mehr',
  'up to {high}': 'bis zu {high}',
  '{low} to {high}': '{low} bis {high}',
  up: 'nach oben',
  down: 'nach unten',
  'to the right': 'nach rechts',
  'to the left': 'nach links',
  '{unit} at {distance}': '{unit} auf {distance}',
  'mm per metre': 'mm je Meter',
  'mm per yard': 'mm je Yard',
  'in per metre': 'Zoll je Meter',
  'in per yard': 'Zoll je Yard',
  'No end of this bow shows yet what this adjuster does; usually {one} moves the bare shafts about {size} {unit} {towards}. This step is kept small enough to learn it.':
    'Noch zeigt keine Passe dieses Bogens, was das bewirkt; üblicherweise bewegt {one} die Rohschäfte etwa {size} {unit} {towards}. Der Schritt ist klein genug, um es zu lernen.',
  '{ends} and {earlier} before': '{ends} und {earlier} davor',
  "In this bow's log {one} moves the bare shafts {size} {unit} {towards} ({low} to {high}), from {ends}.":
    'Im Schießbuch dieses Bogens bewegt {one} die Rohschäfte {size} {unit} {towards} ({low} bis {high}), nach {ends}.',
  'On this bow it works the other way round than usual.':
    'Bei diesem Bogen wirkt es andersherum als üblich.',
  '{wild} that did not fit the others counted little.':
    '{wild}, die nicht zu den anderen passten, zählten wenig.',
  'the shooting': 'das Schießen',
  'Shoot another end or two before you change anything on the bow.':
    'Schieß noch ein, zwei Passen, bevor du am Bogen etwas änderst.',
  'bare shafts': 'Rohschäfte',
  'Shoot fletched arrows and bare shafts again, and only then make the next change.':
    'Schieß wieder befiederte Pfeile und Rohschäfte, und mach erst dann die nächste Änderung.',
  'Shoot fletched arrows and bare shafts again.': 'Schieß wieder befiederte Pfeile und Rohschäfte.',
  'One change at a time: two at once hide what each of them did.':
    'Eine Änderung auf einmal: Zwei zugleich verdecken, was jede bewirkt hat.',
  'the bow': 'der Bogen',
  'Leave the bow as it is.': 'Lass den Bogen, wie er ist.',
  'The bare shafts are where you want them, as closely as these arrows can tell. Scores, not bare shafts, decide from here.':
    'Die Rohschäfte sind dort, wo du sie haben willst, soweit diese Pfeile es sagen können. Ab hier entscheiden Ringe, nicht Rohschäfte.',
  'The bare shafts are so near to where you want them that a change would as likely harm as help.':
    'Die Rohschäfte sind so nahe dort, wo du sie haben willst, dass eine Änderung ebenso leicht schaden wie nützen würde.',
  'Shoot {fletched} more fletched and {bare} more bare.':
    'Schieß noch {fletched} befiederte und {bare} Rohschäfte.',
  'So few arrows do not tell how wide you shoot, so nothing can be said yet.':
    'So wenige Pfeile verraten nicht, wie weit du streust, also lässt sich noch nichts sagen.',
  'Change nothing yet: shoot {fletched} more fletched and {bare} more bare.':
    'Ändere noch nichts: Schieß noch {fletched} befiederte und {bare} Rohschäfte.',
  'With these few arrows the offset may be chance; that many would settle it four times in five.':
    'Bei diesen wenigen Pfeilen kann der Versatz Zufall sein; so viele würden es in vier von fünf Fällen klären.',
  'Change nothing: even {fletched} more fletched and {bare} more bare would hardly settle it.':
    'Ändere nichts: Selbst noch {fletched} befiederte und {bare} Rohschäfte würden es kaum klären.',
  'The offset is small beside your spread. Keep your ends in the log and let it add up over sessions.':
    'Der Versatz ist klein neben deiner Streuung. Behalte deine Passen im Schießbuch, über mehrere Einheiten kommt es zusammen.',
  leaning: 'eher so',
  'Bare shafts are higher than you want, {sure}: nocking point low':
    'Rohschäfte liegen höher, als du willst, {sure}: Nockpunkt zu tief',
  'Bare shafts are lower than you want, {sure}: nocking point high':
    'Rohschäfte liegen tiefer, als du willst, {sure}: Nockpunkt zu hoch',
  'tiller or nocking point': 'Tiller oder Nockpunkt',
  'Check the nocking point against square first; then raise it in steps of {step}, and if it ends far from where it usually sits, look at the tiller with both limb bolts.':
    'Prüfe zuerst den Nockpunkt mit dem Checker; setz ihn dann in Schritten von {step} höher, und wenn er weit von seiner üblichen Stelle endet, sieh dir den Tiller mit beiden Wurfarmschrauben an.',
  'Check the nocking point against square first; then lower it in steps of {step}, and if it ends far from where it usually sits, look at the tiller with both limb bolts.':
    'Prüfe zuerst den Nockpunkt mit dem Checker; setz ihn dann in Schritten von {step} tiefer, und wenn er weit von seiner üblichen Stelle endet, sieh dir den Tiller mit beiden Wurfarmschrauben an.',
  '{why}, by more than small steps of the nocking point usually trim.':
    '{why}, um mehr, als kleine Schritte am Nockpunkt üblicherweise ausgleichen.',
  'nocking point': 'Nockpunkt',
  'draw weight or arrow': 'Zuggewicht oder Pfeil',
  'Take a little draw weight off with both limb bolts, half a turn at a time; if that is not enough, the arrow is too weak: a stiffer shaft, a shorter one, or a lighter point.':
    'Nimm mit beiden Wurfarmschrauben etwas Zuggewicht heraus, je eine halbe Umdrehung; reicht das nicht, ist der Pfeil zu weich: ein steiferer Schaft, ein kürzerer oder eine leichtere Spitze.',
  'Add a little draw weight with both limb bolts, half a turn at a time; if that is not enough, the arrow is too stiff: a weaker shaft, a longer one, or a heavier point.':
    'Gib mit beiden Wurfarmschrauben etwas Zuggewicht dazu, je eine halbe Umdrehung; reicht das nicht, ist der Pfeil zu steif: ein weicherer Schaft, ein längerer oder eine schwerere Spitze.',
  '{why}, by more than the plunger can trim.': '{why}, um mehr, als der Button ausgleichen kann.',
  plunger: 'Button',
  'Make the plunger stiffer by two clicks or so.': 'Mach den Button um etwa zwei Klicks härter.',
  'Make the plunger softer by two clicks or so.': 'Mach den Button um etwa zwei Klicks weicher.',
  '{why}. The amount is a rule of thumb until your log knows this bow.':
    '{why}. Die Größe ist eine Faustregel, bis dein Schießbuch diesen Bogen kennt.',
  'It is beyond what fine adjusters usually trim: the arrow may not suit the bow.':
    'Das ist mehr, als Feineinstellungen üblicherweise ausgleichen: Der Pfeil passt vielleicht nicht zum Bogen.',
  '{what}: {how}.': '{what}: {how}.',
  'a higher number is stiffer': 'eine höhere Zahl ist härter',
  'soft#spring': 'weich',
  'medium#spring': 'mittel',
  'stiff#spring': 'hart',
  'high#wanted': 'hoch',
  'low#wanted': 'tief',
  'weak#wanted': 'weich',
  'stiff#wanted': 'steif',
  'a little {side}': 'etwas {side}',
  '{side}#degree': '{side}',
  'well {side}': 'deutlich {side}',
  'weak if right-handed, stiff if left-handed': 'bei Rechtshand zu weich, bei Linkshand zu steif',
  'stiff if right-handed, weak if left-handed': 'bei Rechtshand zu steif, bei Linkshand zu weich',
  'weak#arrow': 'zu weich',
  'stiff#arrow': 'zu steif',
  'nocking point low': 'Nockpunkt zu tief',
  'nocking point high': 'Nockpunkt zu hoch',
  'height as wanted': 'Höhe wie gewünscht',
  'sideways as wanted': 'Seite wie gewünscht',
  sure: 'sicher',
  likely: 'wahrscheinlich',
  'Bare shafts can fly wide: start close, keep to a large boss with clear ground behind and beside it, and follow the rules of your club and range.':
    'Rohschäfte können weit abweichen: Fang nah an, schieß auf eine große Scheibe mit freiem Gelände dahinter und daneben, und halte dich an die Regeln von Verein und Platz.',
  'Look over and flex every carbon shaft before it is shot again; one that is cracked, splintered or creaks goes in the bin.':
    'Sieh jeden Carbonschaft an und bieg ihn, bevor er wieder geschossen wird; ein rissiger, splittriger oder knackender gehört in den Müll.',
  'Never shoot an arrow that is too weak, too light or too short for the bow: check it against the table of its maker, at your draw weight and length, and ask a qualified coach when in doubt.':
    'Schieß nie einen Pfeil, der für den Bogen zu weich, zu leicht oder zu kurz ist: Prüfe ihn an der Tabelle seines Herstellers, bei deinem Zuggewicht und Auszug, und frag im Zweifel einen ausgebildeten Trainer.',
  "Stay within the bow maker's range of the limb bolts, turn both by the same amount unless you mean to change the tiller, unstring before big changes, and measure brace height and tiller again afterwards.":
    'Bleib bei den Wurfarmschrauben im Bereich des Herstellers, dreh beide gleich weit, wenn du nicht den Tiller ändern willst, spann vor großen Änderungen ab, und miss danach Standhöhe und Tiller nach.',
  'Main thread first, then the lock nut: snug and never forced. Stripped threads and crushed parts cost more than a click.':
    'Erst das Hauptgewinde, dann die Kontermutter: handfest und nie mit Gewalt. Ausgerissene Gewinde und gequetschte Teile kosten mehr als einen Klick.',
  'Mark where it was before you move it, and check that it cannot slip on the string.':
    'Markier, wo er war, bevor du ihn versetzt, und prüfe, dass er auf der Sehne nicht rutschen kann.',
  'What a qualified coach sees at the line outweighs a figure from a few arrows.':
    'Was ein ausgebildeter Trainer an der Schießlinie sieht, wiegt mehr als eine Zahl aus ein paar Pfeilen.',
  Plunger: 'Button',
  'Plunger spring': 'Feder des Buttons',
  'Nocking point above square': 'Nockpunktüberhöhung',
  'Tiller, upper minus lower': 'Tiller, oben minus unten',
  'Limb bolts, turns in from the outermost allowed': 'Wurfarmschrauben, Umdrehungen ab ganz außen',
  'Draw weight at full draw': 'Zuggewicht im Vollauszug',
  'Brace height': 'Standhöhe',
  'Clicker, in front of the plunger': 'Klicker, vor dem Button',
  'Centre shot, point outside the line': 'Centershot, Spitze außerhalb der Linie',
  'Static spine': 'Statischer Spinewert',
  'Arrow length': 'Pfeillänge',
  Point: 'Spitze',
  higher: 'höher',
  lower: 'niedriger',
  more: 'mehr',
  less: 'weniger',
  'in#turns': 'hinein',
  'out#turns': 'heraus',
  in: 'nach innen',
  out: 'nach außen',
  'weaker#shaft': 'weicher',
  'stiffer#shaft': 'steifer',
  longer: 'länger',
  shorter: 'kürzer',
  heavier: 'schwerer',
  lighter: 'leichter',
  thicker: 'dicker',
  thinner: 'dünner',
  'up#reading': 'höher',
  'down#reading': 'niedriger',
  tiller: 'Tiller',
  'brace height': 'Standhöhe',
  grain: 'grain',
  'Bare shafts are further right than you want, {sure}: for a right-handed archer weak':
    'Rohschäfte liegen weiter rechts, als du willst, {sure}: bei Rechtshand zu weich',
  'Bare shafts are further right than you want, {sure}: for a left-handed archer stiff':
    'Rohschäfte liegen weiter rechts, als du willst, {sure}: bei Linkshand zu steif',
  'Bare shafts are further left than you want, {sure}: for a right-handed archer stiff':
    'Rohschäfte liegen weiter links, als du willst, {sure}: bei Rechtshand zu steif',
  'Bare shafts are further left than you want, {sure}: for a left-handed archer weak':
    'Rohschäfte liegen weiter links, als du willst, {sure}: bei Linkshand zu weich',
  'Raise the nocking point by half a millimetre to one.':
    'Setz den Nockpunkt einen halben bis einen Millimeter höher.',
  'Lower the nocking point by half a millimetre to one.':
    'Setz den Nockpunkt einen halben bis einen Millimeter tiefer.',
  'Raise the nocking point by 1/64 to 1/32 in.': 'Setz den Nockpunkt 1/64 bis 1/32 Zoll höher.',
  'Lower the nocking point by 1/64 to 1/32 in.': 'Setz den Nockpunkt 1/64 bis 1/32 Zoll tiefer.',
  'As printed (10–1)': 'Wie gedruckt (10–1)',
  'Inner ten only': 'Nur Innenzehn',
  'Five zones (9–1)': 'Fünf Zonen (9–1)',
  'An arrow that lands apart may be damaged. Before it is shot again, look for cracks, flex a carbon shaft, and see that the nock is straight and sits firmly; then look at point and vanes. When in doubt, throw it away.':
    'Ein Pfeil, der abseits trifft, kann beschädigt sein. Sieh vor dem nächsten Schuss nach Rissen, bieg einen Carbonschaft und prüfe, dass die Nocke gerade ist und fest sitzt; sieh dann Spitze und Federn an. Im Zweifel wirf ihn weg.',
  'lands apart': 'trifft abseits',
  'with the group': 'bei der Gruppe',
  'open#arrow': 'offen',
  'Number the arrows on the marks: from {least} ends on it shows where each one lands beside the others.':
    'Nummeriere die Pfeile an den Treffern: Ab {least} Passen zeigt es, wo jeder neben den anderen trifft.',
  'Number the bare shafts on the marks: from {least} ends on it shows where each one lands beside the others.':
    'Nummeriere die Rohschäfte an den Treffern: Ab {least} Passen zeigt es, wo jeder neben den anderen trifft.',
  '{ends} of {least} ends with numbered arrows: then it shows where each one lands beside the others.':
    '{ends} von {least} Passen mit nummerierten Pfeilen: Dann zeigt es, wo jeder neben den anderen trifft.',
  '{ends} of {least} ends with numbered bare shafts: then it shows where each one lands beside the others.':
    '{ends} von {least} Passen mit nummerierten Rohschäften: Dann zeigt es, wo jeder neben den anderen trifft.',
  'Arrow {arrow} lands apart: {place} at {distance} from the centre of the others.':
    'Pfeil {arrow} trifft abseits: {place} auf {distance} von der Mitte der anderen.',
  'Bare shaft {arrow} lands apart: {place} at {distance} from the centre of the others.':
    'Rohschaft {arrow} trifft abseits: {place} auf {distance} von der Mitte der anderen.',
  'Arrows {arrows} do not land together, and no centre is shared by more than half of them: shoot them with others to tell which are off.':
    'Die Pfeile {arrows} treffen nicht zusammen, und keine Mitte teilen mehr als die Hälfte von ihnen: Schieß sie mit anderen, um zu sehen, welche abweichen.',
  'Bare shafts {arrows} do not land together, and no centre is shared by more than half of them: shoot them with others to tell which are off.':
    'Die Rohschäfte {arrows} treffen nicht zusammen, und keine Mitte teilen mehr als die Hälfte von ihnen: Schieß sie mit anderen, um zu sehen, welche abweichen.',
} satisfies Catalogue;
