import type { Catalogue } from './entry.ts';

export const GERMAN_KEEP = {
  '{n} ends without a distance had gone to the log as of {distance}: handed over anew, without one.':
    {
      one: '{n} Passe ohne Entfernung war als {distance} ins Schießbuch gegangen: neu übergeben, ohne.',
      other:
        '{n} Passen ohne Entfernung waren als {distance} ins Schießbuch gegangen: neu übergeben, ohne.',
    },
  'Copied: {ends} with {photos}.': 'Kopiert: {ends} mit {photos}.',
  '{n} photos': { one: '{n} Foto', other: '{n} Fotos' },
  'Taken in: {ends}, {setUps}.': 'Eingelesen: {ends}, {setUps}.',
  '{n} set-ups': { one: '{n} Setup', other: '{n} Setups' },
  '{n} ends were here already.': {
    one: '{n} Passe war schon hier.',
    other: '{n} Passen waren schon hier.',
  },
  'A copy of your own': 'Eine eigene Kopie',
  'This browser may clear what is kept here: copy it now and then.':
    'Dieser Browser kann löschen, was hier behalten ist: Kopier es ab und zu.',
  'Copy all into a file': 'Alles in eine Datei',
  'Take a copy in': 'Eine Kopie einlesen',
  'Never copied yet.': 'Noch nie kopiert.',
  'Last copied on {day}.': 'Zuletzt kopiert am {day}.',
  'No end was kept since.': 'Seither wurde keine Passe behalten.',
  '{n} ends were kept since.': {
    one: '{n} Passe wurde seither behalten.',
    other: '{n} Passen wurden seither behalten.',
  },
  'The file is larger than 1 GB: a browser cannot unpack it. Take it in with “endwise import”.':
    'Die Datei ist größer als 1 GB: Ein Browser kann sie nicht entpacken. Lies sie mit „endwise import“ ein.',
  'The file is no copy of endwise, or breaks off: choose another one.':
    'Die Datei ist keine Kopie von endwise oder bricht ab: Wähle eine andere.',
  'The file unpacks to more than a copy holds: it was refused.':
    'Die Datei wird entpackt größer, als eine Kopie ist: Sie wurde abgelehnt.',
  'A newer endwise wrote this file: load the page anew, then take it in.':
    'Ein neueres endwise hat diese Datei geschrieben: Lade die Seite neu und lies sie dann ein.',
  'The file is no copy of endwise, or a damaged one: choose another one.':
    'Die Datei ist keine Kopie von endwise oder beschädigt: Wähle eine andere.',
  'The file lacks {missing} of its photos: choose another one.':
    'Der Datei fehlen {missing} ihrer Fotos: Wähle eine andere.',
  'Deleted.': 'Gelöscht.',
  'Taken over from the log.': 'Aus dem Schießbuch übernommen.',
  '{host} cannot be reached: try later.': '{host} ist nicht erreichbar: Versuch es später.',
  'No ends kept yet': 'Noch keine Passen behalten',
  'What you keep waits here.': 'Was du behältst, wartet hier.',
  'Kept ends': 'Behaltene Passen',
  Everyone: 'Alle',
  'None that is written down': 'Keins, das aufgeschrieben ist',
  'no bare shafts': 'keine Rohschäfte',
  'no name#of': 'ohne Namen',
  'Another device changed it too. The log keeps that one until you choose.':
    'Ein anderes Gerät hat sie auch geändert. Das Schießbuch behält jene, bis du wählst.',
  'Deleted from the log on another device.': 'Auf einem anderen Gerät aus dem Schießbuch gelöscht.',
  'Put this one into the log': 'Diese ins Schießbuch geben',
  'Correct the end of {archer}, {when}': 'Die Passe von {archer}, {when} berichtigen',
  Correct: 'Berichtigen',
  'Delete the end of {archer}, {when}': 'Die Passe von {archer}, {when} löschen',
  'Log on the server': 'Schießbuch auf dem Server',
  'Hand over': 'Übergeben',
  'nothing#hand-over': 'nichts',
  ends: 'Passen',
  'ends and photos': 'Passen und Fotos',
  'Ends stay on this device.': 'Passen bleiben auf diesem Gerät.',
  'Looking what is to be handed over.': 'Es wird nachgesehen, was zu übergeben ist.',
  'Everything kept here is in the log at {host}.':
    'Alles hier Behaltene ist im Schießbuch auf {host}.',
  'Handing over: {what}.': 'Wird übergeben: {what}.',
  '{host} cannot be reached now. Nothing waits for it.':
    '{host} ist jetzt nicht erreichbar. Nichts wartet darauf.',
  '{what} until {host} can be reached.': '{what}, bis {host} erreichbar ist.',
  '{what} and stay here meanwhile.': {
    one: '{what} und bleibt solange hier.',
    other: '{what} und bleiben solange hier.',
  },
  '{host} says: {message}': '{host} sagt: {message}',
  '{n} changes of the set-up book': {
    one: '{n} Änderung des Setup-Buchs',
    other: '{n} Änderungen des Setup-Buchs',
  },
  '{what} wait': { one: '{what} wartet', other: '{what} warten' },
  'An end that was deleted here was changed on another device since: it stays in the log.':
    'Eine hier gelöschte Passe wurde seither auf einem anderen Gerät geändert: Sie bleibt im Schießbuch.',
  'Deleted: {n} ends': { one: 'Gelöscht: {n} Passe', other: 'Gelöscht: {n} Passen' },
  'They can be put back for {days} days, on this device.':
    'Sie lassen sich {days} Tage lang zurückholen, auf diesem Gerät.',
  '{archer}, {day}, {points} points': '{archer}, {day}, {points} Ringe',
  'Put back: {what}': 'Zurückholen: {what}',
  'Put back': 'Zurückholen',
  Keep: 'Behalten',
  'Kept on this device.': 'Auf diesem Gerät behalten.',
  'Which arrows are bare shafts is a guess: until you say it, the log learns nothing from this end.':
    'Welche Pfeile Rohschäfte sind, ist geraten: Bis du es sagst, lernt das Schießbuch nichts aus dieser Passe.',
  'Say which are bare': 'Sagen, welche Rohschäfte sind',
  Place: 'Ort',
  'Ground or hall': 'Platz oder Halle',
  'Shot#where': 'Geschossen',
  outdoors: 'draußen',
  indoors: 'in der Halle',
  Wind: 'Wind',
  'None, light from the left…': 'Keiner, leicht von links …',
  'A new spring, how it felt…': 'Eine neue Feder, wie es sich anfühlte …',
  'No room on this device: the end is not kept. Make room and keep it again, or download it.':
    'Kein Platz auf diesem Gerät: Die Passe ist nicht behalten. Schaff Platz und behalte sie noch einmal, oder lade sie herunter.',
  'Stays on this device. Nothing is sent unless you say so.':
    'Bleibt auf diesem Gerät. Nichts wird gesendet, außer du sagst es.',
  'Kept here, and in the log at {host} without the photo when it can be reached.':
    'Hier behalten, und ohne Foto im Schießbuch auf {host}, sobald es erreichbar ist.',
  'Kept here, and in the log at {host} when it can be reached.':
    'Hier behalten, und im Schießbuch auf {host}, sobald es erreichbar ist.',
  'Reading as JSON': 'Auswertung als JSON',
  'Share the picture': 'Bild teilen',
  Picture: 'Bild',
  'From where was it shot? Without the distance only the score of this end counts.':
    'Von wo wurde geschossen? Ohne die Entfernung zählt von dieser Passe nur das Ergebnis.',
  'Does the archer shoot right- or left-handed? It tells a weak arrow from a stiff one.':
    'Wird mit Rechts- oder Linkshand geschossen? Davon hängt ab, ob ein Pfeil zu weich oder zu steif ist.',
  '{distance}, as last time': '{distance}, wie zuletzt',
  'There it was read as a {face}: correct it here, read it again as that, and keep it.':
    'Dort wurde sie als {face} ausgewertet: Berichtige sie hier, werte sie noch einmal so aus und behalte sie.',
  'The log refused an end ({status}).': 'Das Schießbuch hat eine Passe abgelehnt ({status}).',
  '“{name}” was changed on another device since: it is back.':
    '„{name}“ wurde seither auf einem anderen Gerät geändert: Es ist wieder da.',
  '“{name}” was shot with on another device: it is archived instead.':
    'Mit „{name}“ wurde auf einem anderen Gerät geschossen: Es ist stattdessen archiviert.',
  'This device at the server': 'Dieses Gerät am Server',
  'Take my record along': 'Meine Daten mitnehmen',
  'It is paired for {archer}: it sees and hands over this record alone.':
    'Es ist für {archer} gekoppelt: Es sieht und übergibt nur diese Daten.',
  'It is paired for the coach {coach}: it sees the archers who are coached there.':
    'Es ist fürs Training bei {coach} gekoppelt: Es sieht, wer dort trainiert wird.',
  'It is paired for whoever keeps the log: it sees everybody.':
    'Es ist für die Führung des Schießbuchs gekoppelt: Es sieht alle.',
  'The record is deleted from the server.': 'Die Daten sind vom Server gelöscht.',
  'Delete my record from the server': 'Meine Daten vom Server löschen',
  'Ends, photos and set-ups of {archer} go from the server, and no device of theirs is paired any more. What is kept on this device stays.':
    'Passen, Fotos und Setups von {archer} verschwinden vom Server, und kein eigenes Gerät ist mehr gekoppelt. Was auf diesem Gerät behalten ist, bleibt.',
  'Leave it there': 'Dort lassen',
  'Delete it for good': 'Endgültig löschen',
  '{code} pairs one device within {minutes} minutes, at {address}.':
    '{code} koppelt ein Gerät innerhalb von {minutes} Minuten, unter {address}.',
  'Who coaches whom': 'Wer wen trainiert',
  '{coach} coaches': '{coach} trainiert',
  'Name of the coach': 'Name der Trainerin oder des Trainers',
  'Add the coach': 'Hinzufügen',
  'Delete {coach}': '{coach} löschen',
  'Keep {coach}': '{coach} behalten',
  '{coach} is deleted as a coach.': '{coach} ist als Trainerin oder Trainer gelöscht.',
  'This deletes {coach}: devices that were paired for this coach will see nothing any more. The archers stay in the log with all that is theirs, and keep their other coaches.':
    '{coach} wird gelöscht, und dafür gekoppelte Geräte sehen nichts mehr. Wer dort trainiert, bleibt mit allen Daten im Schießbuch und wird weiter von den anderen trainiert.',
  '{coach}, coach': '{coach}, Training',
  'Pair a device of': 'Ein Gerät koppeln für',
  'Show a code': 'Code zeigen',
} satisfies Catalogue;
