import type { Entry } from './entry.ts';
import type { GERMAN_EVENING } from './german-evening.ts';

export const FRENCH_EVENING: Readonly<Record<keyof typeof GERMAN_EVENING, Entry>> = {
  Squad: 'Équipe',
  'Archer not named': 'Archer non nommé',
  '{some} of {all}': '{some} sur {all}',
  'nothing could be read': 'rien n’a pu être lu',
  Archer: 'Archer',
  'Shot with': 'Tiré avec',
  Ends: 'Volées',
  Arrows: 'Flèches',
  'Points an arrow': 'Points par flèche',
  Spread: 'Dispersion',
  'Bare shafts': 'Fûts nus',
  'Need a look': 'À regarder',
  '{ends}, {arrows} arrows, {points} points{parted}, {average} a fletched arrow; spread {spread} {unit} per axis.':
    '{ends}, {arrows} flèches, {points} points{parted}, {average} par flèche empennée ; dispersion {spread} {unit} par axe.',
  '{n} ends': { one: '{n} volée', other: '{n} volées' },
  '{n} of these {all} ends still need a look': {
    one: '{n} de ces {all} volées reste à regarder',
    other: '{n} de ces {all} volées restent à regarder',
  },
  'correct them before anything is changed on the bow.':
    'corrigez-les avant de changer quoi que ce soit à l’arc.',
  Session: 'Séance',
  End: 'Volée',
  Time: 'Heure',
  Points: 'Points',
  Values: 'Valeurs',
  'Bare from fletched': 'Fûts nus par rapport aux empennées',
  '{right} right, {up} up': '{right} à droite, {up} en haut',
  'Nothing needs a look.': 'Rien n’est à regarder.',
  'Needs a look': 'À regarder',
  'X inner ten, ? line call. Which arrows are bare shafts is a suggestion until a person has confirmed it. A photo never overrules a judge at the boss.':
    'X 10 intérieur, ? sur le cordon. Quelles flèches sont des fûts nus est une suggestion tant que personne ne l’a confirmée. Une photo ne l’emporte jamais sur l’arbitre à la cible.',
  '{marks} marks for {shot} arrows': '{marks} impacts pour {shot} flèches',
  'no marks': 'aucun impact',
  '{n} marks new or old': {
    one: '{n} impact nouveau ou ancien',
    other: '{n} impacts nouveaux ou anciens',
  },
  '{n} marks unsure': { one: '{n} impact incertain', other: '{n} impacts incertains' },
  'tags guessed': 'marquage deviné',
  '{n} line calls': { one: '{n} sur le cordon', other: '{n} sur le cordon' },
  'There is no photo in it.': 'Il n’y a pas de photo dedans.',
  'Shot with “{bow}”.': 'Tiré avec « {bow} ».',
  'Files that are no photos were left out: {others}.':
    'Les fichiers qui ne sont pas des photos ont été écartés : {others}.',
  'The archive is larger than 1 GB: unpack it and choose the folder.':
    'L’archive dépasse 1 Go : décompressez-la et choisissez le dossier.',
  '"{file}" inflates as no photo does: the archive was refused.':
    '« {file} » gonfle comme aucune photo ne le fait : l’archive a été refusée.',
  'The archive unpacks to more than 2 GB: split it.':
    'Décompressée, l’archive dépasse 2 Go : divisez-la.',
  'The file is no zip archive, or a damaged one.':
    'Le fichier n’est pas une archive zip, ou elle est abîmée.',
  'Files in the archive that are no photos were left out: {others}.':
    'Les fichiers de l’archive qui ne sont pas des photos ont été écartés : {others}.',
  "There are more than {most} files: choose the evening's alone.":
    'Il y a plus de {most} fichiers : choisissez ceux de la soirée seulement.',
  'The photos could not be opened: there may be no room left.':
    'Les photos n’ont pas pu être ouvertes : peut-être n’y a-t-il plus de place.',
  '{n} ends kept.': { one: '{n} volée conservée.', other: '{n} volées conservées.' },
  'A whole evening': 'Une soirée entière',
  'Drop a folder or a zip archive here. Folders and names say who shot, and with which bow: <b>Juna/soft plunger/3.jpg</b>.':
    'Déposez ici un dossier ou une archive zip. Dossiers et noms disent qui a tiré, et avec quel arc : <b>Juna/bouton souple/3.jpg</b>.',
  'Beside it, <b>3-before.jpg</b> is from before the end, <b>3-also.jpg</b> from another side. Or say it in the list.':
    'À côté, <b>3-avant.jpg</b> date d’avant la volée, <b>3-aussi.jpg</b> la montre d’un autre côté. Ou dites-le dans la liste.',
  'Choose a folder': 'Choisir un dossier',
  'Choose photos or a zip archive': 'Choisir des photos ou une archive zip',
  'What holds for all': 'Ce qui vaut pour toutes',
  Results: 'Résultats',
  '{some} of {all} need a look': '{some} sur {all} à regarder',
  '{n} not read yet': '{n} pas encore lues',
  'Keep the {n} that need no look': {
    one: 'Conserver celle qui n’est pas à regarder',
    other: 'Conserver les {n} qui ne sont pas à regarder',
  },
  'No end of this archer comes after it.': 'Aucune volée de cet archer ne vient après.',
  '{photo} is from before {next}: read again.': '{photo} date d’avant {next} : relecture.',
  'Results, table': 'Résultats, tableau',
  'Look at': 'À regarder',
  'This photo is': 'Cette photo est',
  'Other side of the last': 'L’autre côté de la précédente',
  'No end of this archer was read before it.': 'Aucune volée de cet archer n’a été lue avant elle.',
  '{photo} is joined to {last}.': '{photo} est jointe à {last}.',
  'Archer of {photo}': 'Archer de {photo}',
  'being read': 'en lecture',
  waits: 'attend',
  nothing: 'rien',
  'Before the next': 'Avant la suivante',
  'Sheets and tables': 'Feuilles et tableaux',
  'Sheets to print': 'Feuilles à imprimer',
  'Table (CSV)': 'Tableau (CSV)',
  'Results (JSONL)': 'Résultats (JSONL)',
};
