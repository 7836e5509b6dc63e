import type { Entry } from './entry.ts';
import type { GERMAN_DRAWN } from './german-drawn.ts';

export const FRENCH_DRAWN: Readonly<Record<keyof typeof GERMAN_DRAWN, Entry>> = {
  '{what}: too few ends yet': '{what} : encore trop peu de volées',
  '{what} by their numbers: {which}': '{what} selon leurs numéros : {which}',
  'none lands apart': 'aucun à l’écart',
  '{arrows} apart': '{arrows} à l’écart',
  'Too few ends yet.': 'Encore trop peu de volées.',
  '{what} by number, at {distance}': '{what} par numéro, à {distance}',
  high: 'haut',
  low: 'bas',
  left: 'gauche',
  right: 'droite',
  'Plot of the end on the face: {fletched} fletched, {bare} bare.':
    'Dessin de la volée sur le blason : {fletched} empennées, {bare} fûts nus.',
  "The bare shafts' mean lies {up} and {across} of the fletched mean.":
    'La moyenne des fûts nus se trouve {up} et {across} de la moyenne des empennées.',
  'Line of impact over {n} distances, drifting {drift} mm per metre to the right':
    'Ligne des impacts sur {n} distances, dérivant de {drift} mm par mètre vers la droite',
  'Line of impact: too few distances yet': 'Ligne des impacts : encore trop peu de distances',
  'No groups to show yet.': 'Pas encore de groupement à montrer.',
  'Fletched, from above': 'Empennées, vues de dessus',
  'Where the fletched arrows land, from above': 'Où arrivent les flèches empennées, vu de dessus',
  'left, {unit} from the aim, right': 'gauche, {unit} du point visé, droite',
  'left, {unit} from the others, right': 'gauche, {unit} des autres, droite',
  'On a journey: {bow}': 'En voyage : {bow}',
  'On a journey with “{setUp}”': 'En voyage avec « {setUp} »',
  'Before you leave': 'Avant de partir',
  'On arrival, in this order': 'À l’arrivée, dans cet ordre',
  '{bow}, {hand}. Bare shafts wanted: {preferred}.':
    '{bow}, {hand}. Fûts nus souhaités : {preferred}.',
  '{bow}, {hand}, written down on {day}. Bare shafts wanted: {preferred}.':
    '{bow}, {hand}, noté le {day}. Fûts nus souhaités : {preferred}.',
  'Back to {setUp}: {bow}': 'Retour à {setUp} : {bow}',
  'Back to “{setUp}”': 'Retour à « {setUp} »',
  'Already as it should be': 'Déjà comme il faut',
  'The work, in this order': 'Le travail, dans cet ordre',
  Mind: 'Attention',
  'Tighter group': 'Groupement plus serré',
  'second {times} times as wide': 'second {times} fois plus large',
  better: 'mieux',
  'Nothing to compare yet.': 'Rien à comparer encore.',
  undecided: 'indécis',
  'the first of this bow': 'le premier de cet arc',
  'Set-up': 'Réglage',
  'what changed': 'ce qui a changé',
  '{n} arrows': { one: '{n} flèche', other: '{n} flèches' },
  'not shot yet': 'pas encore tiré',
  '{n} set-ups, newest first, with spread and points an arrow':
    '{n} réglages, le plus récent d’abord, avec dispersion et points par flèche',
  'Timeline of {sessions} sessions with {changes} changes of set-up':
    'Chronologie de {sessions} séances avec {changes} changements de réglage',
  'Nothing to show yet: keep an end first.': 'Rien à montrer encore : conservez d’abord une volée.',
  'Spread against distance for {names}': 'Dispersion selon la distance pour {names}',
  'Fletched spread, {unit}': 'Dispersion empennées, {unit}',
  'Spread of fletched arrows, {unit}': 'Dispersion des flèches empennées, {unit}',
  ': slope {slope}': ', pente {slope}',
  'No name': 'Sans nom',
  '{total} with {n} arrows': { one: '{total} avec {n} flèche', other: '{total} avec {n} flèches' },
  average: 'moyenne',
  spread: 'dispersion',
  'Spread of fletched arrows, mrad (mm per metre)':
    'Dispersion des flèches empennées, mrad (mm par mètre)',
  'Fletched spread, mrad': 'Dispersion empennées, mrad',
  'Bare shafts from fletched, mrad': 'Fûts nus par rapport aux empennées, mrad',
  'Bare shafts, mrad': 'Fûts nus, mrad',
  'not tagged': 'non marqué',
  'old hole': 'ancien trou',
  "The rules of your club and range come first, and a qualified coach's word outweighs this sheet.":
    'Les règles de votre club et du pas de tir passent d’abord, et la parole d’un entraîneur diplômé l’emporte sur cette feuille.',
  'up#series': 'haut',
};
