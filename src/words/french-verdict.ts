import type { Entry } from './entry.ts';
import type { GERMAN_VERDICT } from './german-verdict.ts';

export const FRENCH_VERDICT: Readonly<Record<keyof typeof GERMAN_VERDICT, Entry>> = {
  'as wanted': 'comme voulu',
  '{what}: {how}': '{what} : {how}',
  'over {p}': 'plus de {p}',
  'Which are the bare shafts?': 'Lesquels sont les fûts nus ?',
  'The photo does not show it. These are the likeliest, by where the arrows lie.':
    'La photo ne le montre pas. Voici les plus probables, d’après la place des flèches.',
  'Bare shafts: {marks}': 'Fûts nus : {marks}',
  'Neither: check the tags': 'Aucune : vérifier le marquage',
  'mark {number}': 'impact {number}',
  Verdict: 'Verdict',
  fletched: 'empennée',
  bare: 'fût nu',
  'true centre of the bare shafts, 90 % region': 'vrai centre des fûts nus, région à 90 %',
  'with your last {ends} ends': 'avec vos {ends} dernières volées',
  'plate: {size} at {distance}, to scale': 'assiette : {size} à {distance}, à l’échelle',
  'near enough to where bare shafts are wanted': 'assez près de là où les fûts nus sont voulus',
  'Say the distance to judge the offset against plate and dead zone.':
    'Dites la distance pour juger l’écart face à l’assiette et à la zone morte.',
  Distance: 'Distance',
  Groups: 'Groupements',
  Group: 'Groupement',
  'Spread σ': 'Dispersion σ',
  'Mean radius': 'Rayon moyen',
  Widest: 'Étendue',
  Fletched: 'Empennées',
  Bare: 'Fûts nus',
  'Keep this end': 'Conserver cette volée',
  'Photograph the next': 'Photographier la suivante',
  'No arrows marked yet': 'Aucune flèche marquée encore',
  'No fletched arrows tagged: nothing to compare with':
    'Aucune flèche empennée marquée : rien à quoi comparer',
  'No bare shafts tagged: this end says nothing about the bow':
    'Aucun fût nu marqué : cette volée ne dit rien de l’arc',
  'Undecided: this could be chance': 'Indécis : cela peut être le hasard',
  'Nothing to change': 'Rien à changer',
  'Bare shafts {side}: {sure}': 'Fûts nus {side} : {sure}',
  'Bare shafts {one} and {two}: {sure}': 'Fûts nus {one} et {two} : {sure}',
  'Bare shafts {one} ({sureOfOne}) and {two} ({sure})':
    'Fûts nus {one} ({sureOfOne}) et {two} ({sure})',
  'under {p}': 'moins de {p}',
  'Within the plate that plunger and nocking point can trim ({p}).':
    'Dans l’assiette que bouton de pression et point d’encochage peuvent corriger ({p}).',
  'Beyond the plate that plunger and nocking point can trim ({p}).':
    'Hors de l’assiette que bouton de pression et point d’encochage peuvent corriger ({p}).',
  '{up} and {across} mrad': '{up} et {across} mrad',
  'Offset of the bare group: {up}, {across}{at}.': 'Écart des fûts nus : {up}, {across}{at}.',
  'What to do': 'Que faire',
  'Leave it as it is': 'Laissez comme c’est',
  'What to do, in this order': 'Que faire, dans cet ordre',
  'Why: {reason}': 'Pourquoi : {reason}',
  Cautions: 'Précautions',
  '<b>{fletched} fletched and {bare} bare more</b> would settle it.':
    '<b>{fletched} empennées et {bare} fûts nus de plus</b> le trancheraient.',
  milliradian: 'milliradian',
  plate: 'assiette',
  'dead zone': 'zone morte',
  'A milliradian (mrad) is an angle: 1 mm at 1 m, 30 mm at 30 m. It says the same of a bow at every distance.':
    'Un milliradian (mrad) est un angle : 1 mm à 1 m, 30 mm à 30 m. Il dit la même chose d’un arc à toute distance.',
  'The plate is a circle around the middle of the fletched arrows, {size} across at {distance}, to scale elsewhere. Plunger and nocking point can bring in bare shafts inside it; outside it draw weight or arrow do not suit.':
    'L’assiette est un cercle autour du milieu des flèches empennées, de {size} de large à {distance}, à l’échelle ailleurs. Bouton de pression et point d’encochage peuvent y ramener les fûts nus ; au-dehors, la puissance ou la flèche ne conviennent pas.',
  'The dead zone is how near is near enough: within {zone} mrad of where you want the bare shafts no change makes the bow better.':
    'La zone morte dit quand c’est assez près : à moins de {zone} mrad de l’endroit voulu pour les fûts nus, aucun changement n’améliore l’arc.',
};
