import type { Entry } from './entry.ts';
import type { GERMAN_REFUSALS } from './german-refusals.ts';

/** What the server refuses, and how a device is let in. */
export const FRENCH_REFUSALS: Readonly<Record<keyof typeof GERMAN_REFUSALS, Entry>> = {
  'The database of the log cannot be reached: what was not confirmed is not kept, try again.':
    'La base du journal est injoignable : ce qui n’a pas été confirmé n’est pas gardé, réessayez.',
  'Others are writing the same to the log: try again.':
    'D’autres écrivent la même chose dans le journal : réessayez.',
  'Another endwise is writing to the log: try again.':
    'Un autre endwise écrit dans le journal : réessayez.',
  'The disk of the database is full: make room and keep it again; what was kept before is safe.':
    'Le disque de la base est plein : faites de la place et recommencez ; ce qui était gardé est en sûreté.',
  'The database takes no more connections for now: try again; where it stays so, raise its max_connections or start fewer servers and workers.':
    'La base n’accepte plus de connexions pour le moment : réessayez ; si cela dure, augmentez son max_connections ou lancez moins de serveurs et de workers.',
  'The database gave this up, as it took longer than its statement_timeout allows: try again; where it stays so, raise that.':
    'La base a abandonné, car cela durait plus que son statement_timeout ne permet : réessayez ; si cela dure, augmentez-le.',
  "The database's certificate is not trusted: look at it, and at sslrootcert in the address.":
    'Le certificat de la base n’est pas reconnu : vérifiez-le, ainsi que sslrootcert dans l’adresse.',
  'The database does not let endwise in any more: look at its user and password there, and at its pg_hba.conf.':
    'La base ne laisse plus entrer endwise : vérifiez-y l’utilisateur et le mot de passe, et son pg_hba.conf.',
  'The database, or tables of endwise in it, are not there any more: put back a backup, then start endwise again.':
    'La base, ou des tables d’endwise, n’y sont plus : restaurez une sauvegarde, puis relancez endwise.',
  'The database only lets read, as a standby does: name the one that is written to.':
    'La base ne permet que la lecture : nommez celle où l’on écrit.',
  'The user of the database may not do that in it: make it the owner of its tables.':
    'L’utilisateur de la base n’en a pas le droit : faites-en le propriétaire des tables.',
  'A text holds a character that cannot be kept.':
    'Un texte contient un caractère qui ne peut être gardé.',
  'The disk of the database could not be read or written: look after it, then try again.':
    'Le disque de la base n’a pu être lu ou écrit : vérifiez-le, puis réessayez.',
  'The disk could not be read or written: look after it, then try again.':
    'Le disque n’a pu être lu ou écrit : vérifiez-le, puis réessayez.',
  'The database is damaged: "endwise export" saves what can still be read; put back a backup.':
    'La base est abîmée : « endwise export » sauve ce qui se lit encore ; remettez une sauvegarde.',
  "The log's folder or file cannot be written to: allow it, or name another folder with ENDWISE_DATA.":
    'Le dossier ou le fichier du journal ne se laisse pas écrire : permettez-le, ou nommez un autre dossier par ENDWISE_DATA.',
  '{what}: "endwise export" saves what can still be read; move the file away to start a new log, or put back an older copy.':
    '{what} : « endwise export » sauve ce qui se lit encore ; écartez le fichier pour recommencer, ou remettez une copie plus ancienne.',
  'The log file is damaged': 'Le fichier du journal est abîmé',
  'The database of the log went away at the moment of keeping this: look whether it is kept, or send it again.':
    'La base du journal a disparu au moment de garder ceci : vérifiez si c’est gardé, ou envoyez-le de nouveau.',
  'The photo {file} was damaged or altered on the disk: put back a copy of it.':
    'La photo {file} a été abîmée ou changée sur le disque : remettez-en une copie.',
  'There is no {what} "{id}" in the log.': 'Ceci n’est pas dans le journal : {what} « {id} ».',
  'There is no such {what} here.': 'Il n’y a pas cela ici : {what}.',
  archer: 'archer',
  bow: 'arc',
  'set-up': 'réglage',
  session: 'séance',
  end: 'volée',
  photo: 'photo',
  'Something went wrong in endwise itself; the server wrote down what.':
    'Quelque chose a mal tourné dans endwise même ; le serveur a noté quoi.',
  'There is nothing here.': 'Il n’y a rien ici.',
  'The request is larger than allowed.': 'La demande est plus grande que permis.',
  'The request is not well formed: its address, encoding or JSON is broken.':
    'La demande est mal formée : adresse, encodage ou JSON sont abîmés.',
  'The upload broke off.': 'L’envoi s’est interrompu.',
  'The form broke off or is not well formed.': 'Le formulaire s’est interrompu ou est mal formé.',
  'The file is empty: copy the photo again.': 'Le fichier est vide : copiez de nouveau la photo.',
  'The photo file is cut short: copy or send it again in full.':
    'Le fichier de la photo est tronqué : copiez-le ou envoyez-le de nouveau en entier.',
  'The photo file is damaged and cannot be decoded: copy or send it again.':
    'Le fichier de la photo est abîmé et ne s’ouvre pas : copiez-le ou envoyez-le de nouveau.',
  'This server is not known by that name; its option --name makes it known.':
    'Ce serveur n’est pas connu sous ce nom ; son option --name le fait connaître.',
  'Another site may not change anything here.': 'Un autre site ne peut rien changer ici.',
  'Too many requests: wait a minute.': 'Trop de demandes : attendez une minute.',
  'Too many wrong codes were tried: wait a quarter of an hour.':
    'Trop de faux codes : attendez un quart d’heure.',
  'The code is wrong or too old: look at the terminal.':
    'Le code est faux ou trop vieux : regardez dans le terminal.',
  'That did not work': 'Cela n’a pas marché',
  'Back to endwise': 'Retour à endwise',
  'Pair this device': 'Associer cet appareil',
  'The code stands in the terminal in which endwise runs.':
    'Le code se trouve dans le terminal où tourne endwise.',
  Pair: 'Associer',
  '{where}: One of {choices}.': '{where} : L’un de {choices}.',
  '{where}: A number is needed here.': '{where} : Il faut un nombre ici.',
  '{where}: At least {least}.': '{where} : Au moins {least}.',
  '{where}: At most {most}.': '{where} : Au plus {most}.',
  '{where}: At most {most} letters.': '{where} : Au plus {most} lettres.',
  '{where}: Missing.': '{where} : Manque.',
  '{where}: Not what belongs here.': '{where} : N’a pas sa place ici.',
};
