import type { Entry } from './entry.ts';
import type { GERMAN_VERDICT } from './german-verdict.ts';

export const FRENCH_VERDICT: Readonly<Record<keyof typeof GERMAN_VERDICT, Entry>> = {
  'as wanted': 'comme voulu',
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
  'Say the shooting distance, and the offset can be judged against plate and dead zone.':
    'Dites la distance de tir, et l’écart pourra être jugé selon l’assiette et la zone morte.',
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
};
