import type { Catalogue } from './entry.ts';

export const GERMAN_HANDED_OUT = {
  'The log says that {name} is right-handed: that counts.':
    'Im Schießbuch steht {name} als Rechtshand: Das gilt.',
  'The log says that {name} is left-handed: that counts.':
    'Im Schießbuch steht {name} als Linkshand: Das gilt.',
  'Reading was cancelled.': 'Die Auswertung wurde abgebrochen.',
  '{scoring}: this face has no ten, so it is scored as printed.':
    '{scoring}: Diese Auflage hat keine Zehn, also wird wie gedruckt gewertet.',
  'No shaft diameter was given: marks were looked for, and lines called, as of {mm} mm. Give it, or holes of wider shafts may be overlooked.':
    'Ein Schaftdurchmesser wurde nicht angegeben: Treffer wurden mit {mm} mm gesucht und auf der Linie gewertet. Gib ihn an, sonst können Löcher dickerer Schäfte übersehen werden.',
  'The second photo: {why}': 'Das zweite Foto: {why}',
  'Mark {mark} has two numbers, {one} and {two}: say one.':
    'Treffer {mark} hat zwei Nummern, {one} und {two}: Nenne eine.',
  'Marks {one} and {two} both have the number {arrow}: an end has each arrow once.':
    'Die Treffer {one} und {two} haben beide die Nummer {arrow}: Eine Passe hat jeden Pfeil einmal.',
  'There are two adjusters "{adjuster}": rename one of them.':
    'Es gibt zwei Einstellungen „{adjuster}“: Benenne eine davon um.',
  '{name}: its least value {least} is not below its greatest {most}.':
    '{name}: Der kleinste Wert {least} liegt nicht unter dem größten {most}.',
  '{name}: two of its choices are the same.': '{name}: Zwei der Möglichkeiten sind gleich.',
  "{fresh} marks are new since the photo from before, {shot} arrows were shot: check which ones are this end's.":
    '{fresh} Treffer sind seit dem Foto von davor neu, {shot} Pfeile wurden geschossen: Prüfe, welche zu dieser Passe gehören.',
  'Of {clear} clear holes in the photo from before only {matched} are in this one: it shows another face. Choose the photo taken of this face before the end, or read without one.':
    'Von {clear} deutlichen Löchern im Foto von davor sind nur {matched} in diesem: Es zeigt eine andere Auflage. Wähle das Foto, das vor der Passe von dieser Auflage gemacht wurde, oder werte ohne eins aus.',
  '{fresh} marks are not in the photo from before, but only {shot} arrows were shot: it shows another face, or is too blurred to tell. Choose the photo taken of this face just before the end, or read without one.':
    '{fresh} Treffer sind nicht im Foto von davor, aber nur {shot} Pfeile wurden geschossen: Es zeigt eine andere Auflage oder ist zu unscharf. Wähle das Foto, das kurz vor der Passe von dieser Auflage gemacht wurde, oder werte ohne eins aus.',
  'The photo from before shows holes that this one does not, and nothing is new in this one: the two may be swapped.':
    'Das Foto von davor zeigt Löcher, die dieses nicht zeigt, und in diesem ist nichts neu: Die beiden sind vielleicht vertauscht.',
  '{seen} arrows seem to stand in the face, {shot} were shot: check which ones are marked.':
    '{seen} Pfeile scheinen in der Auflage zu stecken, {shot} wurden geschossen: Prüfe, welche eingezeichnet sind.',
  'A further shaft can be seen, but not surely where it enters the face: add what is missing by hand.':
    'Ein weiterer Schaft ist zu sehen, aber nicht sicher, wo er in die Auflage geht: Füge von Hand hinzu, was fehlt.',
  '{unclear} further shafts can be seen, but not surely where they enter the face: add what is missing by hand.':
    '{unclear} weitere Schäfte sind zu sehen, aber nicht sicher, wo sie in die Auflage gehen: Füge von Hand hinzu, was fehlt.',
  'The shafts look about {seen} mm wide on a face of this size: give their diameter, and check the size of the face.':
    'Die Schäfte wirken auf einer Auflage dieser Größe etwa {seen} mm dick: Gib ihren Durchmesser an und prüfe die Größe der Auflage.',
  'The shafts look about {seen} mm wide on a face of this size, not {told} mm: check the shaft diameter, and the size of the face.':
    'Die Schäfte sehen bei einer Auflage dieser Größe etwa {seen} mm dick aus, nicht {told} mm: Prüfe den Schaftdurchmesser und die Größe der Auflage.',
  'The entry is hidden behind another arrow: its place is an estimate.':
    'Der Einschlag ist hinter einem anderen Pfeil verdeckt: Seine Stelle ist geschätzt.',
  'No rings were found around these taps: tap the centre, then two places on one ring again.':
    'Um diese Punkte wurden keine Ringe gefunden: Tippe noch einmal auf die Mitte, dann auf zwei Stellen eines Rings.',
  'No target face was found: photograph the whole face from the front, or place it by hand with a tap on its centre and two on a ring.':
    'Es wurde keine Auflage gefunden: Fotografiere die ganze Auflage von vorn, oder setz sie von Hand, mit einem Tipp auf die Mitte und zwei auf einen Ring.',
  'No ring is seen beyond zone {zone}: is it {other}? The rings of both are the same up to there.':
    'Außerhalb von Zone {zone} ist kein Ring zu sehen: Ist es {other}? Bis dort sind die Ringe beider gleich.',
  'This is not the {face} face: its rings are those of {seen}. Read it as the {like} face, or say which it is.':
    'Das ist nicht die Auflage {face}: Ihre Ringe sind die von: {seen}. Werte sie als {like} aus, oder sag, welche es ist.',
  'Not all spots of the face can be seen ({face}): photograph the whole sheet, or read one spot as the {like} face.':
    'Nicht alle Spots der Auflage sind zu sehen ({face}): Fotografiere das ganze Blatt, oder werte einen Spot als {like} aus.',
  'The rings that were found fit no face that endwise knows: photograph the whole face from the front, choose which face it is, or place it by hand with a tap on its centre and two on a ring.':
    'Die gefundenen Ringe passen zu keiner Auflage, die endwise kennt: Fotografiere die ganze Auflage von vorn, wähle, welche es ist, oder setz sie von Hand, mit einem Tipp auf die Mitte und zwei auf einen Ring.',
  'Only the rings in the middle lie where they should: the paper is bent farther out. Do not trust positions and values there.':
    'Nur die inneren Ringe liegen, wo sie sollen: Weiter außen ist das Papier gewölbt. Verlass dich dort nicht auf Lage und Werte.',
  'The picture seems to be cut out of a larger photo: take the whole photo if you have it.':
    'Das Bild scheint aus einem größeren Foto ausgeschnitten zu sein: Nimm das ganze Foto, wenn du es hast.',
  'Too few ring edges can be seen: take a sharper photo of the whole face, or place it by hand.':
    'Zu wenige Ringkanten sind zu sehen: Mach ein schärferes Foto der ganzen Auflage, oder setz sie von Hand.',
  'The photo shows {seen}, not the {face} face: choose the face that was shot.':
    'Das Foto zeigt {seen}, nicht die Auflage {face}: Wähle die Auflage, auf die geschossen wurde.',
  'Read as the {face} face, the size last given for faces of this look.':
    'Als Auflage {face} ausgewertet, die zuletzt genannte Größe für Auflagen dieses Aussehens.',
  'A photo does not show how large a face is: it was taken as the {face} face. Choose the right size if it is another.':
    'Ein Foto zeigt nicht, wie groß eine Auflage ist: Sie wurde als {face} genommen. Wähle die richtige Größe, wenn es eine andere ist.',
  'The centre of the face lies outside the photo: take one that shows it.':
    'Die Mitte der Auflage liegt außerhalb des Fotos: Mach eins, das sie zeigt.',
  'The photo was taken {degrees} degrees from the side: stand in front of the face.':
    'Das Foto wurde {degrees} Grad von der Seite gemacht: Stell dich vor die Auflage.',
  'The face is too small in the photo: go closer.':
    'Die Auflage ist im Foto zu klein: Geh näher heran.',
  'The photo is too blurred: hold the camera still and let it focus on the face.':
    'Das Foto ist zu unscharf: Halt die Kamera ruhig und lass sie auf die Auflage scharfstellen.',
  'Straight edges around the face are turned by {degrees} degrees against the photo: up on the face was taken from the photo. Hold the camera level if it was not.':
    'Gerade Kanten um die Auflage sind gegen das Foto um {degrees} Grad gedreht: Oben wurde vom Foto genommen. Halt die Kamera gerade, wenn sie es nicht war.',
  "The paper's edges cannot be seen: up on the face was taken from the photo.":
    'Die Papierkanten sind nicht zu sehen: Oben wurde vom Foto genommen.',
  "The paper hangs, or the camera was held, {degrees} degrees from level: up on the face was taken from the paper's edges.":
    'Das Papier hängt, oder die Kamera wurde gehalten, um {degrees} Grad schräg: Oben wurde von den Papierkanten genommen.',
  'Part of the rings lies outside the photo.': 'Ein Teil der Ringe liegt außerhalb des Fotos.',
  'The photo was taken very much from the side: positions are less certain.':
    'Das Foto wurde sehr von der Seite gemacht: Die Lagen sind weniger sicher.',
  'The face is small in the photo: go closer for better positions.':
    'Die Auflage ist im Foto klein: Geh für bessere Lagen näher heran.',
  'Only the second photo shows where this arrow enters.':
    'Nur das zweite Foto zeigt, wo dieser Pfeil einschlägt.',
  'Only the second photo shows this hole.': 'Nur das zweite Foto zeigt dieses Loch.',
  "The two photos differ by {degrees} degrees on which way is up; the first one's counts. Check it before you read high, low, left or right.":
    'Die beiden Fotos weichen um {degrees} Grad darin ab, wo oben ist; das erste zählt. Prüfe es, bevor du hoch, tief, links oder rechts liest.',
  'The second photo shows other arrows: of {count}, {again} where the first shows them. Choose another photo of this very end, or read the first one alone.':
    'Das zweite Foto zeigt andere Pfeile: Von {count} {again}, wo das erste sie zeigt. Wähle ein anderes Foto genau dieser Passe, oder werte das erste allein aus.',
  'none are': 'ist keiner',
  'only 1 is': 'ist nur 1',
  'only {again} are': 'sind nur {again}',
  'The face with its rings and {marks} marks': 'Die Auflage mit ihren Ringen und {marks} Treffern',
  'HEIC photos need a part of the page that is not here yet: connect once, or choose a JPEG.':
    'HEIC-Fotos brauchen einen Teil der Seite, der noch nicht hier ist: Verbinde dich einmal, oder wähle ein JPEG.',
  'This browser cannot hand out pixels.': 'Dieser Browser gibt keine Bildpunkte heraus.',
  'This HEIC photo cannot be opened: choose it as a JPEG.':
    'Dieses HEIC-Foto lässt sich nicht öffnen: Wähle es als JPEG.',
  'The part of the page that reads photos could not be loaded: connect once to the network and try again.':
    'Der Teil der Seite, der Fotos auswertet, konnte nicht geladen werden: Verbinde dich einmal mit dem Netz und versuch es noch einmal.',
  'The reading came out malformed.': 'Die Auswertung kam unbrauchbar heraus.',
  'The file is empty: choose the photo again.': 'Die Datei ist leer: Wähle das Foto noch einmal.',
  'This file is not a photo that the browser can open: choose a JPEG, PNG or WebP.':
    'Diese Datei ist kein Foto, das der Browser öffnen kann: Wähle ein JPEG, PNG oder WebP.',
  'The photo has {megapixels} megapixels; at most {most} are read. Save it smaller.':
    'Das Foto hat {megapixels} Megapixel; höchstens {most} werden ausgewertet. Speichere es kleiner.',
  'Reading failed unexpectedly. Try again, or place the face by hand.':
    'Die Auswertung ist unerwartet gescheitert. Versuch es noch einmal, oder setz die Auflage von Hand.',
  'Reading failed unexpectedly: try again.':
    'Die Auswertung ist unerwartet gescheitert: Versuch es noch einmal.',
  'Something was shot with this bow: delete those ends first, or keep it.':
    'Mit diesem Bogen wurde geschossen: Lösch erst diese Passen, oder behalte ihn.',
  'Something was shot with this set-up: delete those ends first, or keep it.':
    'Mit diesem Setup wurde geschossen: Lösch erst diese Passen, oder behalte es.',
  'The set-up "{setUp}" was kept with other values: keep this one as a new set-up.':
    'Das Setup „{setUp}“ wurde mit anderen Werten behalten: Behalte dieses als neues Setup.',
  'This bow was kept for another archer: keep it as a new bow, under an id of its own.':
    'Dieser Bogen wurde für einen anderen Schützen behalten: Behalte ihn als neuen Bogen.',
  'This session was kept for another archer: keep it as a new session, under an id of its own.':
    'Diese Einheit wurde für einen anderen Schützen behalten: Behalte sie als neue Einheit.',
  'This photo is kept already, with the end of {when}: correct that end, or choose another photo.':
    'Dieses Foto ist schon behalten, mit der Passe von {when}: Berichtige jene Passe, oder wähle ein anderes Foto.',
  'The disk is full: make room and keep it again; what was kept before is safe.':
    'Die Platte ist voll: Schaff Platz und behalte es noch einmal; was vorher behalten war, ist sicher.',
  'This device may not do that: whoever keeps the log may.':
    'Das darf dieses Gerät nicht: Wer das Schießbuch führt, darf es.',
  'This device keeps ends of its own archers alone: whoever keeps the log adds others.':
    'Dieses Gerät behält nur Passen seiner eigenen Schützen: Andere trägt ein, wer das Schießbuch führt.',
  'Pair this device first: open /pair and type the code.':
    'Kopple erst dieses Gerät: Öffne /pair und tipp den Code ein.',
  'the face with ten zones': 'die Auflage mit zehn Zonen',
  'a face with coloured rings': 'eine Auflage mit farbigen Ringen',
  'the face with six zones': 'die Auflage mit sechs Zonen',
  'the face with five zones': 'die Auflage mit fünf Zonen',
  'the sheet with three spots one above another': 'das Blatt mit drei Spots übereinander',
  'the sheet with three spots in a triangle': 'das Blatt mit drei Spots im Dreieck',
  'the field face': 'die Feldauflage',
  'a field face': 'eine Feldauflage',
  'the black and white field face': 'die schwarz-weiße Feldauflage',
  'a black and white field face': 'eine schwarz-weiße Feldauflage',
  'the blue and white indoor face': 'die blau-weiße Hallenauflage',
  'a blue and white indoor face': 'eine blau-weiße Hallenauflage',
  '122 cm, ten zones': '122 cm, zehn Zonen',
  '80 cm, ten zones': '80 cm, zehn Zonen',
  '80 cm, six zones': '80 cm, sechs Zonen',
  '80 cm, five zones': '80 cm, fünf Zonen',
  '60 cm, ten zones': '60 cm, zehn Zonen',
  '40 cm, ten zones': '40 cm, zehn Zonen',
  '40 cm, five zones': '40 cm, fünf Zonen',
  '40 cm, three spots one above another': '40 cm, drei Spots übereinander',
  '40 cm, three spots in a triangle': '40 cm, drei Spots im Dreieck',
  '60 cm, three spots one above another': '60 cm, drei Spots übereinander',
  '60 cm, three spots in a triangle': '60 cm, drei Spots im Dreieck',
  '80 cm field': '80 cm Feld',
  '60 cm field': '60 cm Feld',
  '40 cm field': '40 cm Feld',
  '20 cm field': '20 cm Feld',
  '65 cm field, black and white': '65 cm Feld, schwarz-weiß',
  '50 cm field, black and white': '50 cm Feld, schwarz-weiß',
  '35 cm field, black and white': '35 cm Feld, schwarz-weiß',
  '20 cm field, black and white': '20 cm Feld, schwarz-weiß',
  '40 cm indoor, blue and white': '40 cm Halle, blau-weiß',
  '1 arrow shot, 0 found: one may be hidden or have missed the face.':
    '1 Pfeil geschossen, 0 gefunden: Er kann verdeckt sein oder die Auflage verfehlt haben.',
  '{shot} arrows shot, {found} found: one may be hidden or have missed the face.':
    '{shot} Pfeile geschossen, {found} gefunden: Einer kann verdeckt sein oder die Auflage verfehlt haben.',
  '{shot} arrows shot, {found} found: {missing} may be hidden or have missed the face.':
    '{shot} Pfeile geschossen, {found} gefunden: {missing} können verdeckt sein oder die Auflage verfehlt haben.',
  '1 arrow shot, 0 found standing: one may be hidden or have missed the face.':
    '1 Pfeil geschossen, 0 steckend gefunden: Er kann verdeckt sein oder die Auflage verfehlt haben.',
  '{shot} arrows shot, {found} found standing: one may be hidden or have missed the face.':
    '{shot} Pfeile geschossen, {found} steckend gefunden: Einer kann verdeckt sein oder die Auflage verfehlt haben.',
  '{shot} arrows shot, {found} found standing: {missing} may be hidden or have missed the face.':
    '{shot} Pfeile geschossen, {found} steckend gefunden: {missing} können verdeckt sein oder die Auflage verfehlt haben.',
  '1 arrow shot, 0 found in the two photos: one may be hidden in both or have missed the face.':
    '1 Pfeil geschossen, 0 in den beiden Fotos gefunden: Er kann in beiden verdeckt sein oder die Auflage verfehlt haben.',
  '{shot} arrows shot, {found} found in the two photos: one may be hidden in both or have missed the face.':
    '{shot} Pfeile geschossen, {found} in den beiden Fotos gefunden: Einer kann in beiden verdeckt sein oder die Auflage verfehlt haben.',
  '{shot} arrows shot, {found} found in the two photos: {missing} may be hidden in both or have missed the face.':
    '{shot} Pfeile geschossen, {found} in den beiden Fotos gefunden: {missing} können in beiden verdeckt sein oder die Auflage verfehlt haben.',
  'There is no mark {number} of this end: {found} were found. Read the photo without naming bare shafts to see them counted.':
    'Einen Treffer {number} dieser Passe gibt es nicht: {found} wurden gefunden. Lass das Foto ohne Angabe der Rohschäfte auswerten, dann siehst du sie nummeriert.',
  'There is no mark {number} of this end: {found} were found. Read the photo without numbers of arrows to see them counted.':
    'Einen Treffer {number} dieser Passe gibt es nicht: {found} wurden gefunden. Lass das Foto ohne Nummern der Pfeile auswerten, dann siehst du sie gezählt.',
} satisfies Catalogue;
