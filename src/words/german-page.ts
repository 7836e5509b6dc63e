import type { Catalogue } from './entry.ts';

export const GERMAN_PAGE = {
  'That did not work. Reload the page and try again; what is kept stays kept.':
    'Das hat nicht geklappt. Lade die Seite neu und versuch es noch einmal; was behalten ist, bleibt.',
  'This device is paired. Under Kept, choose what goes into the log.':
    'Dieses Gerät ist gekoppelt. Wähle unter Passen, was ins Schießbuch geht.',
  Choose: 'Wählen',
  Name: 'Name',
  Face: 'Auflage',
  'From the photo': 'Aus dem Foto',
  'Ten-zone faces of all sizes look alike in a photo. Say the size, or millimetres may be wrong.':
    'Zehner-Auflagen aller Größen sehen im Foto gleich aus. Sag die Größe, sonst können die Millimeter falsch sein.',
  Scoring: 'Wertung',
  'Shaft diameter': 'Schaftdurchmesser',
  'Fletched arrows shot': 'Befiederte Pfeile geschossen',
  'Bare shafts shot': 'Rohschäfte geschossen',
  'Archer shoots': 'Schütze schießt',
  'right-handed': 'Rechtshand',
  'left-handed': 'Linkshand',
  'What is that: {term}?': 'Was ist das: {term}?',
  'You have said {sizes}: the photo was read otherwise. Read it again, and the verdict follows.':
    'Du hast gesagt: {sizes}. Das Foto wurde anders ausgewertet. Werte es noch einmal aus, dann folgt der Befund.',
  'any number of arrows': 'beliebig viele Pfeile',
  '{fletched} fletched + {bare} bare': '{fletched} befiedert + {bare} Rohschäfte',
  'face from the photo': 'Auflage aus dem Foto',
  '{size} shafts': '{size} Schäfte',
  Language: 'Sprache',
  'Like the device': 'Wie das Gerät',
  'Not written down': 'Nicht aufgeschrieben',
  'Less: {what}': 'Weniger: {what}',
  'More: {what}': 'Mehr: {what}',
  'The texts of this language could not be fetched: connect once and choose it again.':
    'Die Texte dieser Sprache konnten nicht geholt werden: Verbinde dich einmal und wähle sie noch einmal.',
  'shafts of {size}': 'Schäfte von {size}',
  'endwise, start': 'endwise, Anfang',
  Pages: 'Seiten',
  Colours: 'Farben',
  'Choose one reading (JSON) together with its photo.':
    'Wähle eine Auswertung (JSON) zusammen mit ihrem Foto.',
  'Photograph the face.': 'Fotografier die Auflage.',
  'Read the bow.': 'Lies den Bogen.',
  'Take a photo': 'Foto machen',
  'Choose photos': 'Fotos wählen',
  'Before the end: {photo}': 'Vor der Passe: {photo}',
  'A used face? Add a photo from before the end':
    'Gebrauchte Auflage? Nimm ein Foto von vor der Passe dazu',
  'Not finished': 'Nicht fertig',
  'An end': 'Eine Passe',
  Continue: 'Weiter',
  Discard: 'Verwerfen',
  'Next end': 'Nächste Passe',
  'Kept lately': 'Zuletzt behalten',
  'All ends': 'Alle Passen',
  'No end yet?': 'Noch keine Passe?',
  'Open one of Juna Feldweg’s, an archer we made up: three fletched arrows and two bare shafts at 50 m.':
    'Öffne eine von Juna Feldweg, die wir erfunden haben: drei befiederte Pfeile und zwei Rohschäfte auf 50 m.',
  'Open the demo end': 'Die Beispiel-Passe öffnen',
  'A photo that reads well': 'Ein Foto, das sich gut auswerten lässt',
  'The whole face in the picture, as large as it goes.':
    'Die ganze Auflage im Bild, so groß es geht.',
  'From the front, the phone held upright; a little from the side does no harm.':
    'Von vorn, das Telefon aufrecht; ein wenig von der Seite schadet nicht.',
  'Arrows may still stand in the face. Holes alone are more exact.':
    'Pfeile dürfen noch in der Auflage stecken. Löcher allein sind genauer.',
  'On a used face, one photo before the end and one after.':
    'Bei einer gebrauchten Auflage ein Foto vor der Passe und eins danach.',
  'How this page speaks': 'Wie diese Seite spricht',
  'Not loaded yet': 'Noch nicht geladen',
  'This part of the page could not be loaded: connect to the network and try again. What is kept on this device is safe.':
    'Dieser Teil der Seite konnte nicht geladen werden: Verbinde dich mit dem Netz und versuch es noch einmal. Was auf diesem Gerät behalten ist, ist sicher.',
  'Try again': 'Noch einmal versuchen',
  'This browser has no room to save the end. Download it before you leave the page.':
    'Dieser Browser hat keinen Platz, die Passe zu sichern. Lade sie herunter, bevor du die Seite verlässt.',
  'This browser has no room to save the photo. Download the end before you leave.':
    'Dieser Browser hat keinen Platz, das Foto zu sichern. Lade die Passe herunter, bevor du gehst.',
  'Opening a HEIC photo…': 'Ein HEIC-Foto wird geöffnet …',
  'The demo photo could not be fetched. It needs the network once.':
    'Das Beispielfoto konnte nicht geholt werden. Einmal braucht es das Netz.',
  'New#end': 'Neu',
  'Kept#ends': 'Passen',
  'Set-ups': 'Setups',
  Evening: 'Abend',
  'Light#theme': 'Hell',
  'Dark#theme': 'Dunkel',
  'Daylight, high contrast': 'Tageslicht, starker Kontrast',
  'Trends#nav': 'Trends',
  'Lengths on the face and the bow': 'Längen auf Auflage und Bogen',
  millimetres: 'Millimeter',
  inches: 'Zoll',
  'Shooting distances': 'Entfernungen',
  metres: 'Meter',
  yards: 'Yards',
  'Masses of points': 'Massen von Spitzen',
  grains: 'Grains',
  grams: 'Gramm',
} satisfies Catalogue;
