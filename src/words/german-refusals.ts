import type { Catalogue } from './entry.ts';

/** What the server refuses, and how a device is let in. */
export const GERMAN_REFUSALS = {
  'The database of the log cannot be reached: what was not confirmed is not kept, try again.':
    'Die Datenbank des Schießbuchs ist nicht erreichbar: Was nicht bestätigt wurde, ist nicht behalten, versuch es noch einmal.',
  'Others are writing the same to the log: try again.':
    'Andere schreiben gerade dasselbe ins Schießbuch: Versuch es noch einmal.',
  'Another endwise is writing to the log: try again.':
    'Ein anderes endwise schreibt gerade ins Schießbuch: Versuch es noch einmal.',
  'The disk of the database is full: make room and keep it again; what was kept before is safe.':
    'Die Platte der Datenbank ist voll: Schaff Platz und behalte es noch einmal; was vorher behalten war, ist sicher.',
  'The database takes no more connections for now: try again; where it stays so, raise its max_connections or start fewer servers and workers.':
    'Die Datenbank nimmt gerade keine Verbindungen mehr an: Versuch es noch einmal; bleibt es so, erhöhe ihr max_connections oder starte weniger Server und Worker.',
  'The database gave this up, as it took longer than its statement_timeout allows: try again; where it stays so, raise that.':
    'Die Datenbank hat das aufgegeben, weil es länger dauerte, als ihr statement_timeout erlaubt: Versuch es noch einmal; bleibt es so, erhöhe ihn.',
  "The database's certificate is not trusted: look at it, and at sslrootcert in the address.":
    'Dem Zertifikat der Datenbank wird nicht getraut: Sieh nach ihm und nach sslrootcert in der Adresse.',
  'The database does not let endwise in any more: look at its user and password there, and at its pg_hba.conf.':
    'Die Datenbank lässt endwise nicht mehr ein: Sieh nach Benutzer und Passwort dort und nach ihrer pg_hba.conf.',
  'The database, or tables of endwise in it, are not there any more: put back a backup, then start endwise again.':
    'Die Datenbank oder Tabellen von endwise darin sind nicht mehr da: Spiel eine Sicherung ein, dann starte endwise neu.',
  'The database only lets read, as a standby does: name the one that is written to.':
    'Die Datenbank lässt nur lesen: Nenne die, in die geschrieben wird.',
  'The user of the database may not do that in it: make it the owner of its tables.':
    'Der Benutzer der Datenbank darf das nicht: Mach ihn zum Eigentümer ihrer Tabellen.',
  'A text holds a character that cannot be kept.':
    'Ein Text enthält ein Zeichen, das sich nicht behalten lässt.',
  'The disk of the database could not be read or written: look after it, then try again.':
    'Die Platte der Datenbank ließ sich nicht lesen oder beschreiben: Sieh nach ihr und versuch es noch einmal.',
  'The disk could not be read or written: look after it, then try again.':
    'Die Platte ließ sich nicht lesen oder beschreiben: Sieh nach ihr und versuch es noch einmal.',
  'The database is damaged: "endwise export" saves what can still be read; put back a backup.':
    'Die Datenbank ist beschädigt: „endwise export“ rettet, was noch lesbar ist; spiel eine Sicherung ein.',
  "The log's folder or file cannot be written to: allow it, or name another folder with ENDWISE_DATA.":
    'Ordner oder Datei des Schießbuchs lassen sich nicht beschreiben: Erlaube es, oder nenne mit ENDWISE_DATA einen anderen Ordner.',
  '{what}: "endwise export" saves what can still be read; move the file away to start a new log, or put back an older copy.':
    '{what}: „endwise export“ rettet, was noch lesbar ist; leg die Datei beiseite, um neu zu beginnen, oder eine ältere Kopie zurück.',
  'The log file is damaged': 'Die Datei des Schießbuchs ist beschädigt',
  'The database of the log went away at the moment of keeping this: look whether it is kept, or send it again.':
    'Die Datenbank des Schießbuchs ging gerade beim Behalten verloren: Sieh nach, ob es behalten ist, oder schick es noch einmal.',
  'The photo {file} was damaged or altered on the disk: put back a copy of it.':
    'Das Foto {file} wurde auf der Platte beschädigt oder verändert: Leg eine Kopie zurück.',
  'There is no {what} "{id}" in the log.': 'Das ist nicht im Schießbuch: {what} „{id}“.',
  'There is no such {what} here.': 'Das gibt es hier nicht: {what}.',
  archer: 'Schütze',
  bow: 'Bogen',
  'set-up': 'Setup',
  session: 'Einheit',
  end: 'Passe',
  photo: 'Foto',
  'Something went wrong in endwise itself; the server wrote down what.':
    'In endwise selbst ging etwas schief; der Server hat aufgeschrieben, was.',
  'There is nothing here.': 'Hier ist nichts.',
  'The request is larger than allowed.': 'Die Anfrage ist größer als erlaubt.',
  'The request is not well formed: its address, encoding or JSON is broken.':
    'Die Anfrage ist nicht wohlgeformt: Adresse, Kodierung oder JSON sind kaputt.',
  'The upload broke off.': 'Das Hochladen brach ab.',
  'The form broke off or is not well formed.': 'Das Formular brach ab oder ist nicht wohlgeformt.',
  'The file is empty: copy the photo again.': 'Die Datei ist leer: Kopier das Foto noch einmal.',
  'The photo file is cut short: copy or send it again in full.':
    'Die Fotodatei ist abgeschnitten: Kopier oder schick sie noch einmal ganz.',
  'The photo file is damaged and cannot be decoded: copy or send it again.':
    'Die Fotodatei ist beschädigt und lässt sich nicht öffnen: Kopier oder schick sie noch einmal.',
  'This server is not known by that name; its option --name makes it known.':
    'Unter diesem Namen ist der Server nicht bekannt; seine Option --name macht ihn bekannt.',
  'Another site may not change anything here.': 'Eine andere Seite darf hier nichts ändern.',
  'Too many requests: wait a minute.': 'Zu viele Anfragen: Warte eine Minute.',
  'Too many wrong codes were tried: wait a quarter of an hour.':
    'Zu viele falsche Codes: Warte eine Viertelstunde.',
  'The code is wrong or too old: look at the terminal.':
    'Der Code ist falsch oder zu alt: Sieh ins Terminal.',
  'That did not work': 'Das hat nicht geklappt',
  'Back to endwise': 'Zurück zu endwise',
  'Pair this device': 'Dieses Gerät koppeln',
  'The code stands in the terminal in which endwise runs.':
    'Der Code steht im Terminal, in dem endwise läuft.',
  Pair: 'Koppeln',
  '{where}: One of {choices}.': '{where}: Eins von {choices}.',
  '{where}: A number is needed here.': '{where}: Hier gehört eine Zahl hin.',
  '{where}: At least {least}.': '{where}: Mindestens {least}.',
  '{where}: At most {most}.': '{where}: Höchstens {most}.',
  '{where}: At most {most} letters.': '{where}: Höchstens {most} Buchstaben.',
  '{where}: Missing.': '{where}: Fehlt.',
  '{where}: Not what belongs here.': '{where}: Gehört so nicht hierher.',
} satisfies Catalogue;
