import type { Entry } from './entry.ts';
import type { GERMAN_HANDED_OUT } from './german-handed-out.ts';

export const FRENCH_HANDED_OUT: Readonly<Record<keyof typeof GERMAN_HANDED_OUT, Entry>> = {
  'The log says that {name} is right-handed: that counts.':
    'Le journal dit que {name} est droitier : c’est ce qui compte.',
  'The log says that {name} is left-handed: that counts.':
    'Le journal dit que {name} est gaucher : c’est ce qui compte.',
  'Reading was cancelled.': 'La lecture a été annulée.',
  '{scoring}: this face has no ten, so it is scored as printed.':
    '{scoring} : ce blason n’a pas de dix, il est donc compté comme imprimé.',
  'No shaft diameter was given: marks were looked for, and lines called, as of {mm} mm. Give it, or holes of wider shafts may be overlooked.':
    'Aucun diamètre de tube n’a été donné : les impacts ont été cherchés, et les cordons jugés, pour {mm} mm. Donnez-le, sinon les trous de tubes plus gros peuvent être oubliés.',
  'The second photo: {why}': 'La deuxième photo : {why}',
  'Mark {mark} has two numbers, {one} and {two}: say one.':
    'L’impact {mark} a deux numéros, {one} et {two} : dites-en un.',
  'Marks {one} and {two} both have the number {arrow}: an end has each arrow once.':
    'Les impacts {one} et {two} ont tous deux le numéro {arrow} : une volée a chaque flèche une fois.',
  'There are two adjusters "{adjuster}": rename one of them.':
    'Il y a deux éléments « {adjuster} » : renommez-en un.',
  '{name}: its least value {least} is not below its greatest {most}.':
    '{name} : la plus petite valeur {least} n’est pas sous la plus grande {most}.',
  '{name}: two of its choices are the same.': '{name} : deux de ses choix sont les mêmes.',
  "{fresh} marks are new since the photo from before, {shot} arrows were shot: check which ones are this end's.":
    '{fresh} impacts sont nouveaux depuis la photo d’avant, {shot} flèches ont été tirées : vérifiez lesquels sont de cette volée.',
  'Of {clear} clear holes in the photo from before only {matched} are in this one: it shows another face. Choose the photo taken of this face before the end, or read without one.':
    'Des {clear} trous nets de la photo d’avant, seuls {matched} sont sur celle-ci : elle montre un autre blason. Choisissez la photo prise de ce blason avant la volée, ou lisez sans.',
  '{fresh} marks are not in the photo from before, but only {shot} arrows were shot: it shows another face, or is too blurred to tell. Choose the photo taken of this face just before the end, or read without one.':
    '{fresh} impacts ne sont pas sur la photo d’avant, mais seulement {shot} flèches ont été tirées : elle montre un autre blason, ou est trop floue. Choisissez la photo prise de ce blason juste avant la volée, ou lisez sans.',
  'The photo from before shows holes that this one does not, and nothing is new in this one: the two may be swapped.':
    'La photo d’avant montre des trous que celle-ci ne montre pas, et rien n’est nouveau ici : les deux sont peut-être inversées.',
  '{seen} arrows seem to stand in the face, {shot} were shot: check which ones are marked.':
    '{seen} flèches semblent plantées dans le blason, {shot} ont été tirées : vérifiez lesquelles sont marquées.',
  'A further shaft can be seen, but not surely where it enters the face: add what is missing by hand.':
    'On voit encore un tube, mais pas sûrement où il entre dans le blason : ajoutez à la main ce qui manque.',
  '{unclear} further shafts can be seen, but not surely where they enter the face: add what is missing by hand.':
    'On voit encore {unclear} tubes, mais pas sûrement où ils entrent dans le blason : ajoutez à la main ce qui manque.',
  'The shafts look about {seen} mm wide on a face of this size: give their diameter, and check the size of the face.':
    'Les tubes semblent faire environ {seen} mm de large sur un blason de cette taille : indiquez leur diamètre et vérifiez la taille du blason.',
  'The shafts look about {seen} mm wide on a face of this size, not {told} mm: check the shaft diameter, and the size of the face.':
    'Sur un blason de cette taille les tubes semblent faire environ {seen} mm, pas {told} mm : vérifiez le diamètre du tube et la taille du blason.',
  'The entry is hidden behind another arrow: its place is an estimate.':
    'L’entrée est cachée derrière une autre flèche : sa place est une estimation.',
  'No rings were found around these taps: tap the centre, then two places on one ring again.':
    'Aucun cercle n’a été trouvé autour de ces points : touchez de nouveau le centre, puis deux endroits d’un même cercle.',
  'No target face was found: photograph the whole face from the front, or place it by hand with a tap on its centre and two on a ring.':
    'Aucun blason n’a été trouvé : photographiez le blason entier de face, ou placez-le à la main en touchant son centre puis deux fois un cercle.',
  'No ring is seen beyond zone {zone}: is it {other}? The rings of both are the same up to there.':
    'Aucun cercle ne se voit au-delà de la zone {zone} : est-ce {other} ? Jusque-là les cercles des deux sont les mêmes.',
  'This is not the {face} face: its rings are those of {seen}. Read it as the {like} face, or say which it is.':
    'Ce n’est pas le blason {face} : ses cercles sont ceux de : {seen}. Lisez-le comme {like}, ou dites lequel c’est.',
  'Not all spots of the face can be seen ({face}): photograph the whole sheet, or read one spot as the {like} face.':
    'Tous les spots du blason ne se voient pas ({face}) : photographiez la feuille entière, ou lisez un spot comme {like}.',
  'The rings that were found fit no face that endwise knows: photograph the whole face from the front, choose which face it is, or place it by hand with a tap on its centre and two on a ring.':
    'Les cercles trouvés ne correspondent à aucun blason connu d’endwise : photographiez le blason entier de face, choisissez lequel c’est, ou placez-le à la main en touchant son centre puis deux fois un cercle.',
  'Only the rings in the middle lie where they should: the paper is bent farther out. Do not trust positions and values there.':
    'Seuls les anneaux du milieu sont à leur place : plus loin, le papier est bombé. Ne vous fiez là ni aux positions ni aux valeurs.',
  'The picture seems to be cut out of a larger photo: take the whole photo if you have it.':
    'L’image semble découpée dans une photo plus grande : prenez la photo entière si vous l’avez.',
  'Too few ring edges can be seen: take a sharper photo of the whole face, or place it by hand.':
    'Trop peu de bords de cercles se voient : prenez une photo plus nette du blason entier, ou placez-le à la main.',
  'The photo shows {seen}, not the {face} face: choose the face that was shot.':
    'La photo montre {seen}, pas le blason {face} : choisissez le blason qui a été tiré.',
  'Read as the {face} face, the size last given for faces of this look.':
    'Lu comme le blason {face}, la dernière taille donnée pour les blasons de cet aspect.',
  'A photo does not show how large a face is: it was taken as the {face} face. Choose the right size if it is another.':
    'Une photo ne montre pas la taille d’un blason : il a été pris comme {face}. Choisissez la bonne taille si c’en est une autre.',
  'The centre of the face lies outside the photo: take one that shows it.':
    'Le centre du blason est hors de la photo : prenez-en une qui le montre.',
  'The photo was taken {degrees} degrees from the side: stand in front of the face.':
    'La photo a été prise à {degrees} degrés de côté : placez-vous devant le blason.',
  'The face is too small in the photo: go closer.':
    'Le blason est trop petit sur la photo : approchez-vous.',
  'The photo is too blurred: hold the camera still and let it focus on the face.':
    'La photo est trop floue : tenez l’appareil immobile et laissez-le faire le point sur le blason.',
  'Straight edges around the face are turned by {degrees} degrees against the photo: up on the face was taken from the photo. Hold the camera level if it was not.':
    'Les bords droits autour du blason sont tournés de {degrees} degrés par rapport à la photo : le haut a été pris de la photo. Tenez l’appareil droit s’il ne l’était pas.',
  "The paper's edges cannot be seen: up on the face was taken from the photo.":
    'Les bords du papier ne se voient pas : le haut a été pris de la photo.',
  "The paper hangs, or the camera was held, {degrees} degrees from level: up on the face was taken from the paper's edges.":
    'Le papier pend, ou l’appareil était tenu, à {degrees} degrés de l’horizontale : le haut a été pris des bords du papier.',
  'Part of the rings lies outside the photo.': 'Une partie des cercles est hors de la photo.',
  'The photo was taken very much from the side: positions are less certain.':
    'La photo a été prise très de côté : les positions sont moins sûres.',
  'The face is small in the photo: go closer for better positions.':
    'Le blason est petit sur la photo : approchez-vous pour de meilleures positions.',
  'Only the second photo shows where this arrow enters.':
    'Seule la deuxième photo montre où cette flèche entre.',
  'Only the second photo shows this hole.': 'Seule la deuxième photo montre ce trou.',
  "The two photos differ by {degrees} degrees on which way is up; the first one's counts. Check it before you read high, low, left or right.":
    'Les deux photos diffèrent de {degrees} degrés sur l’orientation du haut ; la première compte. Vérifiez-la avant de lire haut, bas, gauche ou droite.',
  'The second photo shows other arrows: of {count}, {again} where the first shows them. Choose another photo of this very end, or read the first one alone.':
    'La deuxième photo montre d’autres flèches : sur {count}, {again} là où la première les montre. Choisissez une autre photo de cette même volée, ou lisez la première seule.',
  'none are': 'aucune n’est',
  'only 1 is': 'seule 1 est',
  'only {again} are': 'seules {again} sont',
  'The face with its rings and {marks} marks': 'Le blason avec ses cercles et {marks} impacts',
  'HEIC photos need a part of the page that is not here yet: connect once, or choose a JPEG.':
    'Les photos HEIC demandent une partie de la page qui n’est pas encore ici : connectez-vous une fois, ou choisissez un JPEG.',
  'This browser cannot hand out pixels.': 'Ce navigateur ne peut pas fournir de pixels.',
  'This HEIC photo cannot be opened: choose it as a JPEG.':
    'Cette photo HEIC ne peut pas être ouverte : choisissez-la en JPEG.',
  'The part of the page that reads photos could not be loaded: connect once to the network and try again.':
    'La partie de la page qui lit les photos n’a pas pu être chargée : connectez-vous une fois au réseau et réessayez.',
  'The reading came out malformed.': 'La lecture est sortie mal formée.',
  'The file is empty: choose the photo again.':
    'Le fichier est vide : choisissez la photo de nouveau.',
  'This file is not a photo that the browser can open: choose a JPEG, PNG or WebP.':
    'Ce fichier n’est pas une photo que le navigateur sait ouvrir : choisissez un JPEG, PNG ou WebP.',
  'The photo has {megapixels} megapixels; at most {most} are read. Save it smaller.':
    'La photo a {megapixels} mégapixels ; {most} au plus sont lus. Enregistrez-la plus petite.',
  'Reading failed unexpectedly. Try again, or place the face by hand.':
    'La lecture a échoué de façon inattendue. Réessayez, ou placez le blason à la main.',
  'Reading failed unexpectedly: try again.': 'La lecture a échoué de façon inattendue : réessayez.',
  'Something was shot with this bow: delete those ends first, or keep it.':
    'On a tiré avec cet arc : supprimez d’abord ces volées, ou gardez-le.',
  'Something was shot with this set-up: delete those ends first, or keep it.':
    'On a tiré avec ce réglage : supprimez d’abord ces volées, ou gardez-le.',
  'The set-up "{setUp}" was kept with other values: keep this one as a new set-up.':
    'Le réglage « {setUp} » a été gardé avec d’autres valeurs : gardez celui-ci comme nouveau réglage.',
  'This bow was kept for another archer: keep it as a new bow, under an id of its own.':
    'Cet arc a été gardé pour un autre archer : gardez-le comme nouvel arc.',
  'This session was kept for another archer: keep it as a new session, under an id of its own.':
    'Cette séance a été gardée pour un autre archer : gardez-la comme nouvelle séance.',
  'This photo is kept already, with the end of {when}: correct that end, or choose another photo.':
    'Cette photo est déjà gardée, avec la volée de {when} : corrigez cette volée, ou choisissez une autre photo.',
  'The disk is full: make room and keep it again; what was kept before is safe.':
    'Le disque est plein : faites de la place et recommencez ; ce qui était gardé est en sûreté.',
  'This device may not do that: whoever keeps the log may.':
    'Cet appareil ne peut pas faire cela : la personne qui tient le journal le peut.',
  'This device keeps ends of its own archers alone: whoever keeps the log adds others.':
    'Cet appareil ne garde que les volées de ses propres archers : la personne qui tient le journal ajoute les autres.',
  'Pair this device first: open /pair and type the code.':
    'Associez d’abord cet appareil : ouvrez /pair et tapez le code.',
  'the face with ten zones': 'le blason à dix zones',
  'a face with coloured rings': 'un blason aux cercles colorés',
  'the face with six zones': 'le blason à six zones',
  'the face with five zones': 'le blason à cinq zones',
  'the sheet with three spots one above another':
    'la feuille à trois spots l’un au-dessus de l’autre',
  'the sheet with three spots in a triangle': 'la feuille à trois spots en triangle',
  'the field face': 'le blason de campagne',
  'a field face': 'un blason de campagne',
  'the black and white field face': 'le blason de campagne noir et blanc',
  'a black and white field face': 'un blason de campagne noir et blanc',
  'the blue and white indoor face': 'le blason de salle bleu et blanc',
  'a blue and white indoor face': 'un blason de salle bleu et blanc',
  '122 cm, ten zones': '122 cm, dix zones',
  '80 cm, ten zones': '80 cm, dix zones',
  '80 cm, six zones': '80 cm, six zones (centre)',
  '80 cm, five zones': '80 cm, cinq zones',
  '60 cm, ten zones': '60 cm, dix zones',
  '40 cm, ten zones': '40 cm, dix zones',
  '40 cm, five zones': '40 cm, cinq zones',
  '40 cm, three spots one above another': '40 cm, trois spots l’un au-dessus de l’autre',
  '40 cm, three spots in a triangle': '40 cm, trois spots en triangle',
  '60 cm, three spots one above another': '60 cm, trois spots l’un au-dessus de l’autre',
  '60 cm, three spots in a triangle': '60 cm, trois spots en triangle',
  '80 cm field': 'campagne 80 cm',
  '60 cm field': 'campagne 60 cm',
  '40 cm field': 'campagne 40 cm',
  '20 cm field': 'campagne 20 cm',
  '65 cm field, black and white': 'campagne 65 cm, noir et blanc',
  '50 cm field, black and white': 'campagne 50 cm, noir et blanc',
  '35 cm field, black and white': 'campagne 35 cm, noir et blanc',
  '20 cm field, black and white': 'campagne 20 cm, noir et blanc',
  '40 cm indoor, blue and white': 'salle 40 cm, bleu et blanc',
  '1 arrow shot, 0 found: one may be hidden or have missed the face.':
    '1 flèche tirée, 0 trouvée : elle peut être cachée ou avoir manqué le blason.',
  '{shot} arrows shot, {found} found: one may be hidden or have missed the face.':
    '{shot} flèches tirées, {found} trouvées : une peut être cachée ou avoir manqué le blason.',
  '{shot} arrows shot, {found} found: {missing} may be hidden or have missed the face.':
    '{shot} flèches tirées, {found} trouvées : {missing} peuvent être cachées ou avoir manqué le blason.',
  '1 arrow shot, 0 found standing: one may be hidden or have missed the face.':
    '1 flèche tirée, 0 trouvée plantée : elle peut être cachée ou avoir manqué le blason.',
  '{shot} arrows shot, {found} found standing: one may be hidden or have missed the face.':
    '{shot} flèches tirées, {found} trouvées plantées : une peut être cachée ou avoir manqué le blason.',
  '{shot} arrows shot, {found} found standing: {missing} may be hidden or have missed the face.':
    '{shot} flèches tirées, {found} trouvées plantées : {missing} peuvent être cachées ou avoir manqué le blason.',
  '1 arrow shot, 0 found in the two photos: one may be hidden in both or have missed the face.':
    '1 flèche tirée, 0 trouvée sur les deux photos : elle peut être cachée sur les deux ou avoir manqué le blason.',
  '{shot} arrows shot, {found} found in the two photos: one may be hidden in both or have missed the face.':
    '{shot} flèches tirées, {found} trouvées sur les deux photos : une peut être cachée sur les deux ou avoir manqué le blason.',
  '{shot} arrows shot, {found} found in the two photos: {missing} may be hidden in both or have missed the face.':
    '{shot} flèches tirées, {found} trouvées sur les deux photos : {missing} peuvent être cachées sur les deux ou avoir manqué le blason.',
  'There is no mark {number} of this end: {found} were found. Read the photo without naming bare shafts to see them counted.':
    'Il n’y a pas d’impact {number} dans cette volée : {found} ont été trouvés. Lisez la photo sans nommer les fûts nus pour les voir numérotés.',
  'There is no mark {number} of this end: {found} were found. Read the photo without numbers of arrows to see them counted.':
    'Il n’y a pas d’impact {number} dans cette volée : {found} ont été trouvés. Lisez la photo sans numéros de flèches pour les voir comptés.',
};
