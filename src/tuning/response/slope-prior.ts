import type { Hand } from '../../request/request.ts';
import { isReversed, partOf, PARTS, type Axis, type Expected } from '../bow/parts.ts';
import type { Adjuster } from '../bow/set-up.ts';
import { stepOf } from '../bow/setting-amount.ts';
import { factorOf, type Units } from '../bow/units.ts';

/**
 * What an adjuster probably does to the offset before this bow's own ends say so: expected movement of
 * the bare shafts from the fletched centre, mrad per unit of amount. Where it is read in a unit that is
 * not known for its part, no more is known of it than of a part that nobody else has.
 */
export function slopePrior(adjuster: Adjuster, axis: Axis, hand: Hand): Expected {
  const { effect } = partOf(adjuster.part);
  const units = effect.per && unitsPerAmount(adjuster, effect.per);
  if (units === null) return { mean: 0, sd: PARTS.own.effect[axis].sd / stepOf(adjuster) };
  const mirrored = axis === 'horizontal' && hand === 'left';
  const perAmount = isReversed(adjuster) === mirrored ? units : -units;
  return { mean: effect[axis].mean * perAmount, sd: effect[axis].sd * units };
}

/** Units of effect in one unit of amount; null where the adjuster's unit is not known. */
function unitsPerAmount({ scale }: Adjuster, units: Units): number | null {
  switch (scale.type) {
    case 'dial':
      return 1 / scale.positionsPerLine;
    case 'choice':
      return 1;
    case 'number':
      return factorOf(scale.unit, units);
  }
}
