import type { Entry } from './entry.ts';
import type { GERMAN_TRENDS } from './german-trends.ts';

export const FRENCH_TRENDS: Readonly<Record<keyof typeof GERMAN_TRENDS, Entry>> = {
  'Keep one sight mark and one aim.': 'Gardez un seul réglage de viseur et un seul point visé.',
  'The line of impact bends: look at the plunger first, then shoot the series again.':
    'La ligne des impacts est courbe : regardez d’abord le bouton de pression, puis retirez la série.',
  'The impacts drift to the right by {drift} {unit} (90 %: {low} to {high}): look at the centre shot, change it in small steps, shoot the series again.':
    'Les impacts dérivent vers la droite de {drift} {unit} (90 % : {low} à {high}) : regardez l’alignement, corrigez-le par petits pas, retirez la série.',
  'The impacts drift to the left by {drift} {unit} (90 %: {low} to {high}): look at the centre shot, change it in small steps, shoot the series again.':
    'Les impacts dérivent vers la gauche de {drift} {unit} (90 % : {low} à {high}) : regardez l’alignement, corrigez-le par petits pas, retirez la série.',
  'The line of impact is straight within {half} {unit}: centre shot and plunger agree.':
    'La ligne des impacts est droite à {half} {unit} près : alignement et bouton de pression s’accordent.',
  'Whether the impacts drift is undecided: more arrows at the nearest and the furthest distance tell most.':
    'Que les impacts dérivent reste indécis : plus de flèches à la distance la plus proche et la plus lointaine en disent le plus.',
  '{n} ends have no distance: until you say it only their scores count.': {
    one: '{n} volée n’a pas de distance : tant que vous ne la dites pas, seul son score compte.',
    other:
      '{n} volées n’ont pas de distance : tant que vous ne la dites pas, seuls leurs scores comptent.',
  },
  'Shoot groups at {least} distances: fewer tell no law.':
    'Tirez des groupements à {least} distances : moins ne dit aucune loi.',
  'Shoot groups at {n} more distances: below {least} a line fits always, and tells nothing.': {
    one: 'Tirez des groupements à une distance de plus : en dessous de {least} une ligne passe toujours et ne dit rien.',
    other:
      'Tirez des groupements à {n} distances de plus : en dessous de {least} une ligne passe toujours et ne dit rien.',
  },
  'Shoot groups farther apart: from {nearest} to {furthest} hardly anything grows. {enough} would do.':
    'Tirez des groupements plus éloignés : de {nearest} à {furthest} presque rien ne grandit. {enough} suffiraient.',
  'The two set-ups have no distance and face in common yet: shoot both on one day, by turns.':
    'Les deux réglages n’ont encore ni distance ni blason en commun : tirez les deux le même jour, en alternant.',
  '{points} points an arrow': '{points} points par flèche',
  'They score alike, as far as it matters.': 'Ils marquent autant, pour ce qui compte.',
  'Which scores better is undecided: the second leads by {size} ({p}).':
    'Lequel marque le mieux est indécis : le second mène de {size} ({p}).',
  'Which scores better is undecided: the first leads by {size} ({p}).':
    'Lequel marque le mieux est indécis : le premier mène de {size} ({p}).',
  'The second scores better by {size} ({p}).': 'Le second marque mieux, de {size} ({p}).',
  'The first scores better by {size} ({p}).': 'Le premier marque mieux, de {size} ({p}).',
  'They group alike.': 'Ils groupent pareil.',
  'Which groups tighter is undecided: the second has {times} times the spread of the first ({p} that it is tighter).':
    'Lequel groupe le mieux est indécis : le second a {times} fois la dispersion du premier ({p} qu’il soit plus serré).',
  'The second groups tighter: the second has {times} times the spread of the first ({p}).':
    'Le second groupe mieux : il a {times} fois la dispersion du premier ({p}).',
  'The first groups tighter: the second has {times} times the spread of the first ({p}).':
    'Le premier groupe mieux : le second a {times} fois la dispersion du premier ({p}).',
  'More than {most} arrows with each would be needed.':
    'Il faudrait plus de {most} flèches avec chacun.',
  'About {more} more arrows with each, by turns on the same days, would probably decide it.':
    'Environ {more} flèches de plus avec chacun, en alternant les mêmes jours, le décideraient probablement.',
  'Never shot on one day: what the days did cannot be told from what the set-ups do. Shoot both on the same day, in turns: first, second, second, first.':
    'Jamais tirés le même jour : ce que les jours ont fait ne se distingue pas de ce que font les réglages. Tirez avec les deux le même jour, en alternant : premier, deuxième, deuxième, premier.',
  'Twice as far, groups are {times} times as wide (90 %: {low} to {high}).':
    'Deux fois plus loin, les groupements sont {times} fois plus larges (90 % : {low} à {high}).',
  'None lands apart more than chance allows.':
    'Aucune n’arrive plus à l’écart que le hasard ne le permet.',
  'With the group: {arrows}.': 'Avec le groupement : {arrows}.',
  'Open: {arrows}.': 'Indécis : {arrows}.',
  'Never shot together, so not compared: {arrows}. Mix them in an end.':
    'Jamais tirées ensemble, donc pas comparées : {arrows}. Mélangez-les dans une volée.',
  '{arrow} (more than {most} to tell)': '{arrow} (plus de {most} pour le dire)',
  '{arrow} ({more} more to tell)': '{arrow} (encore {more} pour le dire)',
  'Archers side by side': 'Archers côte à côte',
  'Archers, table': 'Archers, tableau',
  'Bare shafts lately': 'Fûts nus récemment',
  'No trends yet': 'Pas encore de tendances',
  'Keep a few ends: spread, offset and scores are drawn here.':
    'Gardez quelques volées : dispersion, écart et scores se dessinent ici.',
  'Photograph a face': 'Photographier un blason',
  Trends: 'Suivi',
  'Open it under <b>Kept</b> to say it.': 'Ouvrez-la sous <b>Volées</b> pour la dire.',
  'Over time': 'Au fil du temps',
  'Averages leave bare shafts out.': 'Les moyennes laissent les fûts nus de côté.',
  'Distance#column': 'Distance',
  'Spread against distance': 'Dispersion selon la distance',
  'Line of impact': 'Ligne des impacts',
  'Bare shaft by bare shaft': 'Fût nu par fût nu',
  'Arrow by arrow': 'Flèche par flèche',
  '{what}, table': '{what}, tableau',
  Number: 'Numéro',
  Shots: 'Tirs',
  'From the others at {distance}': 'Par rapport aux autres à {distance}',
  '{n} more to tell': 'encore {n} pour le dire',
  'Two set-ups side by side': 'Deux réglages côte à côte',
  First: 'Premier',
  Second: 'Second',
  'Sessions, table': 'Séances, tableau',
  Sessions: 'Séances',
  Day: 'Jour',
  'not said': 'non dite',
  'Groups grow in step with distance: the arrows leave the bow as well as you hold it.':
    'Les groupements grandissent au pas de la distance : les flèches quittent l’arc aussi bien que vous le tenez.',
  'Groups grow faster than distance: look for vanes that touch, arrows that settle late or differ, wind, a harder sight picture.':
    'Les groupements grandissent plus vite que la distance : cherchez des plumes qui touchent, des flèches qui se calment tard ou diffèrent, du vent, une visée plus difficile.',
  'Groups grow slower than distance: near ones may suffer from arrows not yet settled, from holding off, or from less care.':
    'Les groupements grandissent moins vite que la distance : de près ils souffrent peut-être de flèches pas encore calmées, de contre-visée ou de moins de soin.',
  'Whether groups grow in step with distance is undecided: more arrows at the nearest and the furthest distance tell most.':
    'On ne sait pas encore si les groupements grandissent au pas de la distance : plus de flèches à la distance la plus courte et à la plus longue en disent le plus.',
};
