import type { Entry } from './entry.ts';
import type { GERMAN_TUNING } from './german-tuning.ts';

export const FRENCH_TUNING: Readonly<Record<keyof typeof GERMAN_TUNING, Entry>> = {
  'Read the bow once more and compare it with the readings here; write down what differs.':
    'Relevez l’arc encore une fois et comparez avec les valeurs d’ici ; notez ce qui diffère.',
  'Measure and write down: {parts}.': 'Mesurez et notez : {parts}.',
  'Mark where nocking point, plunger and rest stand, so that you see at once what has moved.':
    'Marquez la position du point d’encochage, du bouton de pression et du repose-flèche, pour voir aussitôt ce qui a bougé.',
  'Pack a spare string that is made and shot in, spare vanes and nocks, the plunger’s tool, a square and a rule.':
    'Emportez une corde de rechange finie et rodée, des plumes et encoches de rechange, l’outil du bouton de pression, une équerre et une règle.',
  'Keep an end with bare shafts, to compare with on arrival.':
    'Conservez une volée avec fûts nus, pour comparer à l’arrivée.',
  'Look over limbs, string, riser and every shaft before anything is strung or shot.':
    'Examinez branches, corde, poignée et chaque tube avant de bander ou de tirer.',
  'String the bow, and wait until it has the temperature of the place.':
    'Bandez l’arc et attendez qu’il soit à la température du lieu.',
  '{name}: still {reading}?': '{name} : toujours {reading} ?',
  'Try every screw and lock nut: snug, never forced.':
    'Vérifiez chaque vis et contre-écrou : serrés, jamais forcés.',
  'Shoot fletched arrows first, from close; then bare shafts, and compare with the end from home.':
    'Tirez d’abord des flèches empennées de près, puis des fûts nus, et comparez avec la volée de la maison.',
  'read by lines and a dial': 'lu par traits et tambour',
  '{marks} marks a turn': '{marks} repères par tour',
  'Not said, so taken as usual: {unsaid}.': 'Non précisé, donc pris comme d’habitude : {unsaid}.',
  'Read the bow as it is now and compare it with the list you came from.':
    'Relevez l’arc tel qu’il est et comparez avec le réglage d’où vous venez.',
  'Read the bow as it is now and keep that as a set-up, so that you can come back.':
    'Relevez l’arc tel qu’il est et gardez-le comme réglage, pour pouvoir y revenir.',
  '{name}: set to {reading}.': '{name} : régler sur {reading}.',
  '{name}: set to {reading} (now {from}: {change}).':
    '{name} : régler sur {reading} (maintenant {from} : {change}).',
  'Nothing differs: there is nothing to change.': 'Rien ne diffère : il n’y a rien à changer.',
  'Lock every part you loosened: main thread first, then the lock nut; snug, never forced.':
    'Bloquez tout ce que vous avez desserré : d’abord le filetage principal, puis le contre-écrou ; serré, jamais forcé.',
  'Measure {parts} once more: one moves the other.':
    'Mesurez encore une fois : {parts}. L’un fait bouger l’autre.',
  'Shoot fletched arrows first, from close; then bare shafts, and keep that end.':
    'Tirez d’abord des flèches empennées de près, puis des fûts nus, et conservez cette volée.',
  '{from}, now {to}': '{from}, maintenant {to}',
  '{one} and {two}': '{one} et {two}',
  level: 'sans écart',
  'This set-up belongs to another bow than {bow}.':
    'Ce réglage appartient à un autre arc que {bow}.',
  '{bow} has no adjuster "{adjuster}": add it to the bow first, or leave it out.':
    '{bow} n’a pas d’élément « {adjuster} » : ajoutez-le d’abord à l’arc, ou laissez-le de côté.',
  "{name}: give the lines that show and the dial's mark.":
    '{name} : donnez les traits visibles et le repère du tambour.',
  '{name}: the dial has {positions} positions per line, so its mark is 0 to {last}, not {mark}.':
    '{name} : le tambour a {positions} positions par trait, son repère va donc de 0 à {last}, pas {mark}.',
  '{name}: the lines are counted from 0, not {line}.':
    '{name} : les traits se comptent à partir de 0, pas {line}.',
  '{name}: it has {lines} lines, so line {line} cannot be.':
    '{name} : il y a {lines} traits, le trait {line} n’est donc pas possible.',
  '{name}: choose one of {choices}.': '{name} : choisissez parmi {choices}.',
  '{name}: give a number in {unit}.': '{name} : donnez un nombre en {unit}.',
  '{name}: give a number.': '{name} : donnez un nombre.',
  '{name}: {read} cannot be, it is more than zero; check the sign and the unit.':
    '{name} : {read} n’est pas possible, c’est plus que zéro ; vérifiez le signe et l’unité.',
  '{name}: {read} is below {least}, the least this adjuster allows; check the reading or change its range.':
    '{name} : {read} est sous {least}, le minimum admis ici ; vérifiez la lecture ou changez la plage.',
  '{name}: {read} is above {most}, the most this adjuster allows; check the reading or change its range.':
    '{name} : {read} est au-dessus de {most}, le maximum admis ici ; vérifiez la lecture ou changez la plage.',
  'not read': 'non relevé',
  '{n} lines, mark {mark}': { one: '{n} trait, repère {mark}', other: '{n} traits, repère {mark}' },
  '{n} clicks': { one: '{n} clic', other: '{n} clics' },
  '{n} grades': { one: '{n} cran', other: '{n} crans' },
  'the tags': 'le marquage',
  'Say first which of the marks are the bare shafts.':
    'Dites d’abord quels impacts sont les fûts nus.',
  'That was guessed from where they lie ({p} for the likeliest way), and what to change stands on it.':
    'Cela a été deviné d’après leur position ({p} pour la façon la plus probable), et ce qu’il faut changer en dépend.',
  'Look whether "{change}" before {end} is written down the right way round.':
    'Vérifiez si « {change} » avant {end} est noté dans le bon sens.',
  'The bare shafts moved since as if it had been {change}. If it was, correct the set-up; what is advised stands on it.':
    'Les fûts nus ont bougé depuis comme si c’était {change}. Si c’est le cas, corrigez le réglage ; le conseil en dépend.',
  'which hand': 'la main',
  'Say whether the archer shoots right- or left-handed.':
    'Dites si l’on tire en droitier ou en gaucher.',
  'Bare shafts to the right are weak for a right-handed archer and stiff for a left-handed one: the change is the other way round.':
    'Des fûts nus à droite sont trop souples pour un droitier et trop raides pour un gaucher : le réglage est alors inverse.',
  'Bare shafts to the left are stiff for a right-handed archer and weak for a left-handed one: the change is the other way round.':
    'Des fûts nus à gauche sont trop raides pour un droitier et trop souples pour un gaucher : le réglage est alors inverse.',
  'the distance': 'la distance',
  'Say from how far it was shot.': 'Dites à quelle distance on a tiré.',
  'Until then only what holds from wherever this face is usually shot can be said.':
    'D’ici là, on ne peut dire que ce qui vaut à toutes les distances où ce blason se tire d’ordinaire.',
  'Which arrows are bare shafts was guessed.': 'Quelles flèches sont des fûts nus a été deviné.',
  'From how far it was shot is not said: this holds from {nearest} to {furthest}.':
    'La distance de tir n’est pas dite : cela vaut de {nearest} à {furthest}.',
  '{size} above': '{size} au-dessus',
  '{size} below': '{size} au-dessous',
  '{size} to the right': '{size} à droite',
  '{size} to the left': '{size} à gauche',
  'By the likeliest tags the bare shafts are {up} and {across} of the fletched arrows{at}':
    'Selon le marquage le plus probable, les fûts nus sont {up} et {across} des flèches empennées{at}',
  'The bare shafts are {up} and {across} of the fletched arrows{at}':
    'Les fûts nus sont {up} et {across} des flèches empennées{at}',
  '{where}, but with so few arrows that may be chance: shoot more.':
    '{where}, mais avec si peu de flèches cela peut être le hasard : tirez-en plus.',
  '{where}; beside the spread of these few arrows that may be chance, so nothing is decided{from}.':
    '{where} ; au regard de la dispersion de ces quelques flèches cela peut être le hasard, rien n’est donc décidé{from}.',
  '{where}: where you want them, as closely as these arrows can tell{from}.':
    '{where} : là où vous les voulez, autant que ces flèches peuvent le dire{from}.',
  '{where}: {up}, {across}{from}.': '{where} : {up}, {across}{from}.',
  'This end alone: {up}, {across}{at}.': 'Cette volée seule : {up}, {across}{at}.',
  'With your last {ends} ends: {up}; {across}{from}.':
    'Avec vos {ends} dernières volées : {up} ; {across}{from}.',
  'up or down undecided': 'haut ou bas indécis',
  'left or right undecided': 'gauche ou droite indécis',
  'from your preferred offset': 'à partir de l’écart que vous préférez',
  'at {distance}': 'à {distance}',
  '{size} high': '{size} haut',
  '{size} low': '{size} bas',
  '{size} right': '{size} à droite',
  '{size} left': '{size} à gauche',
  '{day}, end {number}': '{day}, volée {number}',
  'Too little to compare the fletched group with your usual spread.':
    'Trop peu pour comparer le groupement empenné à votre dispersion habituelle.',
  'No record of your usual spread yet: keep your ends, and it will be learned.':
    'Rien n’est encore connu de votre dispersion habituelle : conservez vos volées, elle sera apprise.',
  'Your fletched group is {ratio} times as wide as usual for you: settle the shooting before you read the bare shafts.':
    'Votre groupement empenné est {ratio} fois plus large que d’habitude : stabilisez d’abord le tir avant de lire les fûts nus.',
  'Your fletched group is tighter than usual for you.':
    'Votre groupement empenné est plus serré que d’habitude.',
  'Your fletched group is about as wide as usual for you.':
    'Votre groupement empenné est à peu près aussi large que d’habitude.',
  'about {change}': 'environ {change}',
  '{low} or more': '{low} ou plus',
  'up to {high}': 'jusqu’à {high}',
  '{low} to {high}': '{low} à {high}',
  up: 'vers le haut',
  down: 'vers le bas',
  'to the right': 'vers la droite',
  'to the left': 'vers la gauche',
  '{unit} at {distance}': '{unit} à {distance}',
  'mm per metre': 'mm par mètre',
  'mm per yard': 'mm par yard',
  'in per metre': 'pouces par mètre',
  'in per yard': 'pouces par yard',
  'No end of this bow shows yet what this adjuster does; usually {one} moves the bare shafts about {size} {unit} {towards}. This step is kept small enough to learn it.':
    'Aucune volée de cet arc ne montre encore ce que cela fait ; d’ordinaire {one} déplace les fûts nus d’environ {size} {unit} {towards}. Ce pas reste assez petit pour l’apprendre.',
  '{ends} and {earlier} before': '{ends} et {earlier} avant',
  "In this bow's log {one} moves the bare shafts {size} {unit} {towards} ({low} to {high}), from {ends}.":
    'Dans le journal de cet arc, {one} déplace les fûts nus de {size} {unit} {towards} ({low} à {high}), d’après {ends}.',
  'On this bow it works the other way round than usual.':
    'Sur cet arc cela agit dans l’autre sens que d’habitude.',
  '{wild} that did not fit the others counted little.':
    '{wild} qui ne s’accordaient pas aux autres ont peu compté.',
  'the shooting': 'le tir',
  'Shoot another end or two before you change anything on the bow.':
    'Tirez encore une volée ou deux avant de changer quoi que ce soit à l’arc.',
  'bare shafts': 'fûts nus',
  'Shoot fletched arrows and bare shafts again, and only then make the next change.':
    'Tirez de nouveau flèches empennées et fûts nus, et seulement ensuite faites le changement suivant.',
  'Shoot fletched arrows and bare shafts again.': 'Tirez de nouveau flèches empennées et fûts nus.',
  'One change at a time: two at once hide what each of them did.':
    'Un changement à la fois : deux ensemble cachent ce que chacun a fait.',
  'the bow': 'l’arc',
  'Leave the bow as it is.': 'Laissez l’arc tel qu’il est.',
  'The bare shafts are where you want them, as closely as these arrows can tell. Scores, not bare shafts, decide from here.':
    'Les fûts nus sont là où vous les voulez, autant que ces flèches peuvent le dire. À partir d’ici ce sont les scores qui décident, pas les fûts nus.',
  'The bare shafts are so near to where you want them that a change would as likely harm as help.':
    'Les fûts nus sont si près de là où vous les voulez qu’un changement risquerait autant de nuire que d’aider.',
  'Shoot {fletched} more fletched and {bare} more bare.':
    'Tirez encore {fletched} empennées et {bare} fûts nus.',
  'So few arrows do not tell how wide you shoot, so nothing can be said yet.':
    'Si peu de flèches ne disent pas votre dispersion, on ne peut donc encore rien dire.',
  'Change nothing yet: shoot {fletched} more fletched and {bare} more bare.':
    'Ne changez encore rien : tirez encore {fletched} empennées et {bare} fûts nus.',
  'With these few arrows the offset may be chance; that many would settle it four times in five.':
    'Avec ces quelques flèches l’écart peut être le hasard ; autant de plus le trancheraient quatre fois sur cinq.',
  'Change nothing: even {fletched} more fletched and {bare} more bare would hardly settle it.':
    'Ne changez rien : même {fletched} empennées et {bare} fûts nus de plus ne le trancheraient guère.',
  'The offset is small beside your spread. Keep your ends in the log and let it add up over sessions.':
    'L’écart est petit à côté de votre dispersion. Gardez vos volées dans le journal, cela s’additionnera au fil des séances.',
  leaning: 'plutôt',
  'Bare shafts are higher than you want, {sure}: nocking point low':
    'Les fûts nus sont plus haut que vous ne voulez, {sure} : point d’encochage trop bas',
  'Bare shafts are lower than you want, {sure}: nocking point high':
    'Les fûts nus sont plus bas que vous ne voulez, {sure} : point d’encochage trop haut',
  'tiller or nocking point': 'tiller ou point d’encochage',
  'Check the nocking point against square first; then raise it in steps of {step}, and if it ends far from where it usually sits, look at the tiller with both limb bolts.':
    'Vérifiez d’abord le point d’encochage à l’équerre ; puis montez-le par pas de {step}, et s’il finit loin de sa place habituelle, regardez le tiller avec les deux vis de branches.',
  'Check the nocking point against square first; then lower it in steps of {step}, and if it ends far from where it usually sits, look at the tiller with both limb bolts.':
    'Vérifiez d’abord le point d’encochage à l’équerre ; puis descendez-le par pas de {step}, et s’il finit loin de sa place habituelle, regardez le tiller avec les deux vis de branches.',
  '{why}, by more than small steps of the nocking point usually trim.':
    '{why}, de plus que ce que de petits pas du point d’encochage corrigent d’ordinaire.',
  'nocking point': 'point d’encochage',
  'draw weight or arrow': 'puissance ou flèche',
  'Take a little draw weight off with both limb bolts, half a turn at a time; if that is not enough, the arrow is too weak: a stiffer shaft, a shorter one, or a lighter point.':
    'Enlevez un peu de puissance avec les deux vis de branches, un demi-tour à la fois ; si cela ne suffit pas, la flèche est trop souple : un tube plus raide, plus court, ou une pointe plus légère.',
  'Add a little draw weight with both limb bolts, half a turn at a time; if that is not enough, the arrow is too stiff: a weaker shaft, a longer one, or a heavier point.':
    'Ajoutez un peu de puissance avec les deux vis de branches, un demi-tour à la fois ; si cela ne suffit pas, la flèche est trop raide : un tube plus souple, plus long, ou une pointe plus lourde.',
  '{why}, by more than the plunger can trim.':
    '{why}, de plus que ce que le bouton de pression peut corriger.',
  plunger: 'bouton de pression',
  'Make the plunger stiffer by two clicks or so.':
    'Durcissez le bouton de pression de deux clics environ.',
  'Make the plunger softer by two clicks or so.':
    'Assouplissez le bouton de pression de deux clics environ.',
  '{why}. The amount is a rule of thumb until your log knows this bow.':
    '{why}. La valeur est une règle empirique tant que votre journal ne connaît pas cet arc.',
  'It is beyond what fine adjusters usually trim: the arrow may not suit the bow.':
    'C’est plus que ce que les réglages fins corrigent d’ordinaire : la flèche ne convient peut-être pas à l’arc.',
  '{what}: {how}.': '{what} : {how}.',
  'a higher number is stiffer': 'un nombre plus élevé est plus dur',
  'soft#spring': 'souple',
  'medium#spring': 'moyen',
  'stiff#spring': 'dur',
  'high#wanted': 'haut',
  'low#wanted': 'bas',
  'weak#wanted': 'souple',
  'stiff#wanted': 'raide',
  'a little {side}': 'un peu {side}',
  '{side}#degree': '{side}',
  'well {side}': 'nettement {side}',
  'weak if right-handed, stiff if left-handed':
    'trop souple pour un droitier, trop raide pour un gaucher',
  'stiff if right-handed, weak if left-handed':
    'trop raide pour un droitier, trop souple pour un gaucher',
  'weak#arrow': 'trop souple',
  'stiff#arrow': 'trop raide',
  'nocking point low': 'point d’encochage trop bas',
  'nocking point high': 'point d’encochage trop haut',
  'height as wanted': 'hauteur comme voulu',
  'sideways as wanted': 'côté comme voulu',
  sure: 'sûr',
  likely: 'probable',
  'Bare shafts can fly wide: start close, keep to a large boss with clear ground behind and beside it, and follow the rules of your club and range.':
    'Les fûts nus peuvent partir loin : commencez de près, sur une grande butte avec un terrain dégagé derrière et à côté, et suivez les règles de votre club et du pas de tir.',
  'Look over and flex every carbon shaft before it is shot again; one that is cracked, splintered or creaks goes in the bin.':
    'Examinez et fléchissez chaque tube carbone avant de le tirer de nouveau ; s’il est fendu, éclaté ou s’il craque, jetez-le.',
  'Never shoot an arrow that is too weak, too light or too short for the bow: check it against the table of its maker, at your draw weight and length, and ask a qualified coach when in doubt.':
    'Ne tirez jamais une flèche trop souple, trop légère ou trop courte pour l’arc : vérifiez-la dans le tableau de son fabricant, à votre puissance et votre allonge, et en cas de doute demandez à un entraîneur diplômé.',
  "Stay within the bow maker's range of the limb bolts, turn both by the same amount unless you mean to change the tiller, unstring before big changes, and measure brace height and tiller again afterwards.":
    'Restez dans la plage du fabricant pour les vis de branches, tournez les deux autant sauf pour changer le tiller, débandez avant les grands changements, et mesurez ensuite band et tiller de nouveau.',
  'Main thread first, then the lock nut: snug and never forced. Stripped threads and crushed parts cost more than a click.':
    'D’abord le filetage principal, puis le contre-écrou : serré, jamais forcé. Un filetage arraché ou une pièce écrasée coûte plus qu’un clic.',
  'Mark where it was before you move it, and check that it cannot slip on the string.':
    'Marquez où il était avant de le déplacer, et vérifiez qu’il ne peut pas glisser sur la corde.',
  'What a qualified coach sees at the line outweighs a figure from a few arrows.':
    'Ce qu’un entraîneur diplômé voit sur la ligne de tir compte plus qu’un chiffre tiré de quelques flèches.',
  Plunger: 'Bouton de pression',
  'Plunger spring': 'Ressort du bouton de pression',
  'Nocking point above square': 'Point d’encochage au-dessus de l’équerre',
  'Tiller, upper minus lower': 'Tiller, haut moins bas',
  'Limb bolts, turns in from the outermost allowed':
    'Vis de branches, tours vissés depuis la position la plus ouverte permise',
  'Draw weight at full draw': 'Puissance à pleine allonge',
  'Brace height': 'Band',
  'Clicker, in front of the plunger': 'Clicker, devant le bouton de pression',
  'Centre shot, point outside the line': 'Alignement, pointe à l’extérieur de la ligne',
  'Static spine': 'Spine statique',
  'Arrow length': 'Longueur de flèche',
  Point: 'Pointe',
  higher: 'plus haut',
  lower: 'plus bas',
  more: 'de plus',
  less: 'de moins',
  'in#turns': 'en vissant',
  'out#turns': 'en dévissant',
  in: 'vers l’intérieur',
  out: 'vers l’extérieur',
  'weaker#shaft': 'plus souple',
  'stiffer#shaft': 'plus raide',
  longer: 'plus long',
  shorter: 'plus court',
  heavier: 'plus lourd',
  lighter: 'plus léger',
  thicker: 'plus gros',
  thinner: 'plus fin',
  'up#reading': 'plus haut',
  'down#reading': 'plus bas',
  tiller: 'tiller',
  'brace height': 'band',
  grain: 'grains',
  'Bare shafts are further right than you want, {sure}: for a right-handed archer weak':
    'Les fûts nus sont plus à droite que vous ne voulez, {sure} : pour un droitier trop souple',
  'Bare shafts are further right than you want, {sure}: for a left-handed archer stiff':
    'Les fûts nus sont plus à droite que vous ne voulez, {sure} : pour un gaucher trop raide',
  'Bare shafts are further left than you want, {sure}: for a right-handed archer stiff':
    'Les fûts nus sont plus à gauche que vous ne voulez, {sure} : pour un droitier trop raide',
  'Bare shafts are further left than you want, {sure}: for a left-handed archer weak':
    'Les fûts nus sont plus à gauche que vous ne voulez, {sure} : pour un gaucher trop souple',
  'Raise the nocking point by half a millimetre to one.':
    'Montez le point d’encochage d’un demi à un millimètre.',
  'Lower the nocking point by half a millimetre to one.':
    'Descendez le point d’encochage d’un demi à un millimètre.',
  'Raise the nocking point by 1/64 to 1/32 in.':
    'Montez le point d’encochage de 1/64 à 1/32 de pouce.',
  'Lower the nocking point by 1/64 to 1/32 in.':
    'Descendez le point d’encochage de 1/64 à 1/32 de pouce.',
  'As printed (10–1)': 'Comme imprimé (10–1)',
  'Inner ten only': '10 intérieur seulement',
  'Five zones (9–1)': 'Cinq zones (9–1)',
  'An arrow that lands apart may be damaged. Before it is shot again, look for cracks, flex a carbon shaft, and see that the nock is straight and sits firmly; then look at point and vanes. When in doubt, throw it away.':
    'Une flèche qui arrive à l’écart peut être abîmée. Avant de la tirer de nouveau, cherchez des fissures, fléchissez un tube carbone, et vérifiez que l’encoche est droite et tient bien ; regardez ensuite pointe et plumes. En cas de doute, jetez-la.',
  'lands apart': 'arrive à l’écart',
  'with the group': 'avec le groupement',
  'open#arrow': 'indécis',
  'Number the arrows on the marks: from {least} ends on it shows where each one lands beside the others.':
    'Numérotez les flèches sur les impacts : à partir de {least} volées cela montre où chacune arrive par rapport aux autres.',
  'Number the bare shafts on the marks: from {least} ends on it shows where each one lands beside the others.':
    'Numérotez les fûts nus sur les impacts : à partir de {least} volées cela montre où chacun arrive par rapport aux autres.',
  '{ends} of {least} ends with numbered arrows: then it shows where each one lands beside the others.':
    '{ends} sur {least} volées avec flèches numérotées : ensuite cela montre où chacune arrive par rapport aux autres.',
  '{ends} of {least} ends with numbered bare shafts: then it shows where each one lands beside the others.':
    '{ends} sur {least} volées avec fûts nus numérotés : ensuite cela montre où chacun arrive par rapport aux autres.',
  'Arrow {arrow} lands apart: {place} at {distance} from the centre of the others.':
    'La flèche {arrow} arrive à l’écart : {place} à {distance} du centre des autres.',
  'Bare shaft {arrow} lands apart: {place} at {distance} from the centre of the others.':
    'Le fût nu {arrow} arrive à l’écart : {place} à {distance} du centre des autres.',
  'Arrows {arrows} do not land together, and no centre is shared by more than half of them: shoot them with others to tell which are off.':
    'Les flèches {arrows} n’arrivent pas ensemble, et plus de la moitié ne partagent aucun centre : tirez-les avec d’autres pour voir lesquelles s’écartent.',
  'Bare shafts {arrows} do not land together, and no centre is shared by more than half of them: shoot them with others to tell which are off.':
    'Les fûts nus {arrows} n’arrivent pas ensemble, et plus de la moitié ne partagent aucun centre : tirez-les avec d’autres pour voir lesquels s’écartent.',
};
