import type { Entry } from './entry.ts';
import type { GERMAN_PAGE } from './german-page.ts';

export const FRENCH_PAGE: Readonly<Record<keyof typeof GERMAN_PAGE, Entry>> = {
  'That did not work. Reload the page and try again; what is kept stays kept.':
    'Cela n’a pas marché. Rechargez la page et réessayez ; ce qui est conservé le reste.',
  'This device is paired. Under Kept, choose what goes into the log.':
    'Cet appareil est associé. Sous Volées, choisissez ce qui va dans le journal.',
  Choose: 'Choisir',
  Name: 'Nom',
  Face: 'Blason',
  'From the photo': 'D’après la photo',
  'Ten-zone faces of all sizes look alike in a photo. Say the size, or millimetres may be wrong.':
    'Les blasons à dix zones de toutes tailles se ressemblent en photo. Dites la taille, sinon les millimètres peuvent être faux.',
  Scoring: 'Comptage',
  'Shaft diameter': 'Diamètre du tube',
  'Fletched arrows shot': 'Flèches empennées tirées',
  'Bare shafts shot': 'Fûts nus tirés',
  'Archer shoots': 'L’archer tire',
  'right-handed': 'droitier',
  'left-handed': 'gaucher',
  'What is that: {term}?': 'Qu’est-ce que c’est : {term} ?',
  'You have said {sizes}: the photo was read otherwise. Read it again, and the verdict follows.':
    'Vous avez dit {sizes} : la photo a été lue autrement. Relisez-la, et le verdict suivra.',
  'any number of arrows': 'nombre de flèches quelconque',
  '{fletched} fletched + {bare} bare': '{fletched} empennées + {bare} fûts nus',
  'face from the photo': 'blason d’après la photo',
  '{size} shafts': 'tubes de {size}',
  Language: 'Langue',
  'Like the device': 'Comme l’appareil',
  'Not written down': 'Non noté',
  'Less: {what}': 'Moins : {what}',
  'More: {what}': 'Plus : {what}',
  'The texts of this language could not be fetched: connect once and choose it again.':
    'Les textes de cette langue n’ont pas pu être chargés : connectez-vous une fois et choisissez-la de nouveau.',
  'shafts of {size}': 'tubes de {size}',
  'endwise, start': 'endwise, accueil',
  Pages: 'Pages',
  Colours: 'Couleurs',
  'Choose one reading (JSON) together with its photo.':
    'Choisissez une lecture (JSON) avec sa photo.',
  'Photograph the face.': 'Photographiez le blason.',
  'Read the bow.': 'Lisez l’arc.',
  'Take a photo': 'Prendre une photo',
  'Choose photos': 'Choisir des photos',
  'Before the end: {photo}': 'Avant la volée : {photo}',
  'A used face? Add a photo from before the end':
    'Un blason usagé ? Ajoutez une photo d’avant la volée',
  'Not finished': 'Non terminées',
  'An end': 'Une volée',
  Continue: 'Continuer',
  Discard: 'Abandonner',
  'Next end': 'Prochaine volée',
  'Kept lately': 'Conservées récemment',
  'All ends': 'Toutes les volées',
  'No end yet?': 'Pas encore de volée ?',
  'Open one of Juna Feldweg’s, an archer we made up: three fletched arrows and two bare shafts at 50 m.':
    'Ouvrez-en une de Juna Feldweg, une archère que nous avons inventée : trois flèches empennées et deux fûts nus à 50 m.',
  'Open the demo end': 'Ouvrir la volée d’exemple',
  'A photo that reads well': 'Une photo qui se lit bien',
  'The whole face in the picture, as large as it goes.':
    'Le blason entier dans l’image, aussi grand que possible.',
  'From the front, the phone held upright; a little from the side does no harm.':
    'De face, le téléphone droit ; un peu de côté ne nuit pas.',
  'Arrows may still stand in the face. Holes alone are more exact.':
    'Les flèches peuvent encore être plantées. Les trous seuls sont plus exacts.',
  'On a used face, one photo before the end and one after.':
    'Sur un blason usagé, une photo avant la volée et une après.',
  'How this page speaks': 'Comment parle cette page',
  'Not loaded yet': 'Pas encore chargé',
  'This part of the page could not be loaded: connect to the network and try again. What is kept on this device is safe.':
    'Cette partie de la page n’a pas pu être chargée : connectez-vous au réseau et réessayez. Ce qui est conservé sur cet appareil est en sûreté.',
  'Try again': 'Réessayer',
  'This browser has no room to save the end. Download it before you leave the page.':
    'Ce navigateur n’a plus de place pour enregistrer la volée. Téléchargez-la avant de quitter la page.',
  'This browser has no room to save the photo. Download the end before you leave.':
    'Ce navigateur n’a plus de place pour enregistrer la photo. Téléchargez la volée avant de partir.',
  'Opening a HEIC photo…': 'Ouverture d’une photo HEIC…',
  'The demo photo could not be fetched. It needs the network once.':
    'La photo d’exemple n’a pas pu être chargée. Il faut le réseau une fois.',
  'New#end': 'Photo',
  'Kept#ends': 'Volées',
  'Set-ups': 'Réglages',
  Evening: 'Soirée',
  'Light#theme': 'Clair',
  'Dark#theme': 'Sombre',
  'Daylight, high contrast': 'Plein jour, fort contraste',
  'Trends#nav': 'Suivi',
  'Lengths on the face and the bow': 'Longueurs sur le blason et l’arc',
  millimetres: 'millimètres',
  inches: 'pouces',
  'Shooting distances': 'Distances de tir',
  metres: 'mètres',
  yards: 'yards',
  'Masses of points': 'Masses des pointes',
  grains: 'grains',
  grams: 'grammes',
};
