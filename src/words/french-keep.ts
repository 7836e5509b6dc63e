import type { Entry } from './entry.ts';
import type { GERMAN_KEEP } from './german-keep.ts';

export const FRENCH_KEEP: Readonly<Record<keyof typeof GERMAN_KEEP, Entry>> = {
  '{n} ends without a distance had gone to the log as of {distance}: handed over anew, without one.':
    {
      one: '{n} volée sans distance était entrée au journal à {distance} : transmise à nouveau, sans distance.',
      other:
        '{n} volées sans distance étaient entrées au journal à {distance} : transmises à nouveau, sans distance.',
    },
  'Copied: {ends} with {photos}.': 'Copié : {ends} avec {photos}.',
  '{n} photos': { one: '{n} photo', other: '{n} photos' },
  'Taken in: {ends}, {setUps}.': 'Repris : {ends}, {setUps}.',
  '{n} set-ups': { one: '{n} réglage', other: '{n} réglages' },
  '{n} ends were here already.': {
    one: '{n} volée était déjà ici.',
    other: '{n} volées étaient déjà ici.',
  },
  'A copy of your own': 'Une copie à vous',
  'This browser may clear what is kept here: copy it now and then.':
    'Ce navigateur peut effacer ce qui est gardé ici : copiez-le de temps en temps.',
  'Copy all into a file': 'Tout copier dans un fichier',
  'Take a copy in': 'Reprendre une copie',
  'Never copied yet.': 'Jamais copié encore.',
  'Last copied on {day}.': 'Dernière copie le {day}.',
  'No end was kept since.': 'Aucune volée n’a été conservée depuis.',
  '{n} ends were kept since.': {
    one: '{n} volée a été conservée depuis.',
    other: '{n} volées ont été conservées depuis.',
  },
  'The file is larger than 1 GB: a browser cannot unpack it. Take it in with “endwise import”.':
    'Le fichier dépasse 1 Go : un navigateur ne peut pas le décompresser. Reprenez-le avec « endwise import ».',
  'The file is no copy of endwise, or breaks off: choose another one.':
    'Le fichier n’est pas une copie d’endwise, ou il est tronqué : choisissez-en un autre.',
  'The file unpacks to more than a copy holds: it was refused.':
    'Décompressé, le fichier dépasse ce que contient une copie : il a été refusé.',
  'A newer endwise wrote this file: load the page anew, then take it in.':
    'Un endwise plus récent a écrit ce fichier : rechargez la page, puis reprenez-le.',
  'The file is no copy of endwise, or a damaged one: choose another one.':
    'Le fichier n’est pas une copie d’endwise, ou il est abîmé : choisissez-en un autre.',
  'The file lacks {missing} of its photos: choose another one.':
    'Il manque au fichier {missing} de ses photos : choisissez-en un autre.',
  'Deleted.': 'Supprimée.',
  'Taken over from the log.': 'Repris du journal.',
  '{host} cannot be reached: try later.': '{host} est injoignable : essayez plus tard.',
  'No ends kept yet': 'Aucune volée conservée encore',
  'What you keep waits here.': 'Ce que vous gardez attend ici.',
  'Kept ends': 'Volées conservées',
  Everyone: 'Tous',
  'None that is written down': 'Aucun qui soit noté',
  'no bare shafts': 'pas de fûts nus',
  'no name#of': 'sans nom',
  'Another device changed it too. The log keeps that one until you choose.':
    'Un autre appareil l’a changée aussi. Le journal garde celle-là jusqu’à votre choix.',
  'Deleted from the log on another device.': 'Supprimée du journal sur un autre appareil.',
  'Put this one into the log': 'Mettre celle-ci au journal',
  'Correct the end of {archer}, {when}': 'Corriger la volée de {archer}, {when}',
  Correct: 'Corriger',
  'Delete the end of {archer}, {when}': 'Supprimer la volée de {archer}, {when}',
  'Log on the server': 'Journal sur le serveur',
  'Hand over': 'Transmettre',
  'nothing#hand-over': 'rien',
  ends: 'volées',
  'ends and photos': 'volées et photos',
  'Ends stay on this device.': 'Les volées restent sur cet appareil.',
  'Looking what is to be handed over.': 'Recherche de ce qui est à transmettre.',
  'Everything kept here is in the log at {host}.':
    'Tout ce qui est conservé ici est dans le journal sur {host}.',
  'Handing over: {what}.': 'Transmission : {what}.',
  '{host} cannot be reached now. Nothing waits for it.':
    '{host} est injoignable pour l’instant. Rien n’attend.',
  '{what} until {host} can be reached.': '{what} jusqu’à ce que {host} soit joignable.',
  '{what} and stay here meanwhile.': {
    one: '{what} et reste ici en attendant.',
    other: '{what} et restent ici en attendant.',
  },
  '{host} says: {message}': '{host} dit : {message}',
  '{n} changes of the set-up book': {
    one: '{n} changement du carnet de réglages',
    other: '{n} changements du carnet de réglages',
  },
  '{what} wait': { one: '{what} attend', other: '{what} attendent' },
  'An end that was deleted here was changed on another device since: it stays in the log.':
    'Une volée supprimée ici a été modifiée depuis sur un autre appareil : elle reste au journal.',
  'Deleted: {n} ends': { one: 'Supprimée : {n} volée', other: 'Supprimées : {n} volées' },
  'They can be put back for {days} days, on this device.':
    'Elles peuvent être remises pendant {days} jours, sur cet appareil.',
  '{archer}, {day}, {points} points': '{archer}, {day}, {points} points',
  'Put back: {what}': 'Remettre : {what}',
  'Put back': 'Remettre',
  Keep: 'Conserver',
  'Kept on this device.': 'Conservée sur cet appareil.',
  'Which arrows are bare shafts is a guess: until you say it, the log learns nothing from this end.':
    'Quelles flèches sont des fûts nus est deviné : tant que vous ne le dites pas, le journal n’apprend rien de cette volée.',
  'Say which are bare': 'Dire lesquels sont nus',
  Place: 'Lieu',
  'Ground or hall': 'Terrain ou salle',
  'Shot#where': 'Tirée',
  outdoors: 'dehors',
  indoors: 'en salle',
  Wind: 'Vent',
  'None, light from the left…': 'Aucun, léger de gauche…',
  'A new spring, how it felt…': 'Un nouveau ressort, les sensations…',
  'No room on this device: the end is not kept. Make room and keep it again, or download it.':
    'Plus de place sur cet appareil : la volée n’est pas gardée. Faites de la place et gardez-la de nouveau, ou téléchargez-la.',
  'Stays on this device. Nothing is sent unless you say so.':
    'Reste sur cet appareil. Rien n’est envoyé sans votre accord.',
  'Kept here, and in the log at {host} without the photo when it can be reached.':
    'Gardé ici, et sans la photo dans le journal de {host} dès qu’il est joignable.',
  'Kept here, and in the log at {host} when it can be reached.':
    'Gardé ici, et dans le journal de {host} dès qu’il est joignable.',
  'Reading as JSON': 'Lecture en JSON',
  'Share the picture': 'Partager l’image',
  Picture: 'Image',
  'From where was it shot? Without the distance only the score of this end counts.':
    'D’où a-t-on tiré ? Sans la distance, seul le score de cette volée compte.',
  'Does the archer shoot right- or left-handed? It tells a weak arrow from a stiff one.':
    'Tire-t-on en droitier ou en gaucher ? Cela distingue une flèche trop souple d’une trop raide.',
  '{distance}, as last time': '{distance}, comme la dernière fois',
  'There it was read as a {face}: correct it here, read it again as that, and keep it.':
    'Là-bas elle a été lue comme {face} : corrigez-la ici, relisez-la ainsi, et conservez-la.',
  'The log refused an end ({status}).': 'Le journal a refusé une volée ({status}).',
  '“{name}” was changed on another device since: it is back.':
    '« {name} » a été modifié depuis sur un autre appareil : le revoilà.',
  '“{name}” was shot with on another device: it is archived instead.':
    '« {name} » a servi sur un autre appareil : il est archivé à la place.',
  'This device at the server': 'Cet appareil auprès du serveur',
  'Take my record along': 'Emporter mes données',
  'It is paired for {archer}: it sees and hands over this record alone.':
    'Il est associé pour {archer} : il ne voit et ne transmet que ces données.',
  'It is paired for the coach {coach}: it sees the archers who are coached there.':
    'Il est associé pour l’entraînement avec {coach} : il voit les archers qui s’y entraînent.',
  'It is paired for whoever keeps the log: it sees everybody.':
    'Il est associé pour la tenue du journal : il voit tout le monde.',
  'The record is deleted from the server.': 'Les données sont effacées du serveur.',
  'Delete my record from the server': 'Effacer mes données du serveur',
  'Ends, photos and set-ups of {archer} go from the server, and no device of theirs is paired any more. What is kept on this device stays.':
    'Volées, photos et réglages de {archer} disparaissent du serveur, et aucun de ses appareils n’y reste associé. Ce qui est conservé sur cet appareil reste.',
  'Leave it there': 'Les y laisser',
  'Delete it for good': 'Effacer définitivement',
  '{code} pairs one device within {minutes} minutes, at {address}.':
    '{code} associe un appareil dans les {minutes} minutes, à l’adresse {address}.',
  'Who coaches whom': 'Qui entraîne qui',
  '{coach} coaches': '{coach} entraîne',
  'Name of the coach': 'Nom de l’entraîneur',
  'Add the coach': 'Ajouter l’entraîneur',
  'Delete {coach}': 'Effacer {coach}',
  'Keep {coach}': 'Garder {coach}',
  '{coach} is deleted as a coach.': '{coach} n’entraîne plus personne ici.',
  'This deletes {coach}: devices that were paired for this coach will see nothing any more. The archers stay in the log with all that is theirs, and keep their other coaches.':
    'L’entraînement avec {coach} sera effacé : les appareils associés pour cet entraînement ne verront plus rien. Les archers restent dans le journal avec toutes leurs données et gardent leurs autres entraîneurs.',
  '{coach}, coach': '{coach}, entraînement',
  'Pair a device of': 'Associer un appareil de',
  'Show a code': 'Afficher un code',
};
