import normal from '@stdlib/stats-base-dists-normal';
import { massAboveValue, type AxisLaw } from '../response/axis-law.ts';
import { LIKELY, SURE } from './axis-verdict.ts';

export interface FurtherArrows {
  readonly fletched: number;
  readonly bare: number;
  /** Probability that these settle every undecided direction, as it is foretold. */
  readonly probability: number;
  /** Whether that holds four times in five. */
  readonly isEnough: boolean;
}

export interface FurtherArrowsQuestion {
  readonly fletched: number;
  readonly bare: number;
  /** What is known of the undecided coordinates less what is wanted, any unit; df Infinity. */
  readonly laws: readonly AxisLaw[];
  /** Half-width that is as good as wanted, same unit; 0 when unknown. */
  readonly deadZone: number;
  /** Fletched spread per axis, same unit, and its degrees of freedom. */
  readonly sigma: number;
  readonly df: number;
  /** Whether it is from the archer's record, and not from these arrows. */
  readonly isOnRecord?: boolean | undefined;
  /** Spread of bare shafts over fletched. */
  readonly bareRatio: number;
  /** Standard deviation of what the day adds to all its arrows, however many. @default 0 */
  readonly daySd?: number | undefined;
}

/** More than this in one go is no advice: shoot them over several sessions and let the log add up. */
export const FURTHER_AT_MOST = 60;
/**
 * What is foretold to hold this often holds four times in five. Where the same few arrows tell spread and offset,
 * these are taken for known apart, and go together (by simulation).
 */
const FORETOLD_FOR_FOUR_IN_FIVE = { onRecord: 0.8, byTheseArrows: 0.87 } as const;
/** Places about the log of the spread, in its standard deviations, and their shares. */
const SPREADS = [
  { z: -1.2, share: 0.27 },
  { z: 0, share: 0.46 },
  { z: 1.2, share: 0.27 },
] as const;
/** What parts of a law are joined to, at least, before futures are worked out for each of them. */
const WEIGHT_AT_LEAST = 0.08;
/** How many means of the arrows to come are looked at. */
const FUTURES = 21;

/**
 * The fewest further arrows, shared between the kinds where they help most, that settle all
 * undecided directions four times in five. What these arrows will show is foretold by what is
 * known now, prior and log included, and what would be said then is worked out for each of their
 * means: a direction is settled when it is sure, or when the offset is probably within the dead zone.
 * `probability` is what is foretold, of FURTHER_AT_MOST arrows where that is not enough.
 */
export function furtherArrows(question: FurtherArrowsQuestion): FurtherArrows {
  const { bareRatio, daySd = 0, deadZone, isOnRecord = false } = question;
  const enough = FORETOLD_FOR_FOUR_IN_FIVE[isOnRecord ? 'onRecord' : 'byTheseArrows'];
  const variance = (f: number, b: number) => 1 / f + bareRatio ** 2 / b;
  const shares: { fletched: number; bare: number }[] = [];
  let [fletched, bare] = [0, 0];
  for (let more = 1; more <= FURTHER_AT_MOST; more++) {
    const [f, b] = [question.fletched + fletched, question.bare + bare];
    if (variance(f + 1, b) < variance(f, b + 1)) fletched++;
    else bare++;
    shares.push({ fletched, bare });
  }
  const laws = question.laws.map(joined);
  const now = 1 / variance(question.fletched, question.bare);
  const reached = (place: number) => {
    const then = shares[place]!;
    // What the end tells more once it has these arrows, over the spread's variance.
    const told = 1 / variance(question.fletched + then.fletched, question.bare + then.bare) - now;
    const perSpread = SPREADS.map(({ z, share }) => {
      const sigma = question.sigma * Math.exp(z / Math.sqrt(2 * question.df));
      const seen = sigma ** 2 / told + daySd ** 2;
      return share * laws.reduce((p, law) => p * settling(law, seen, deadZone), 1);
    });
    return perSpread.reduce((sum, p) => sum + p, 0);
  };
  // More arrows settle more, so the fewest are found by halving, where there are any.
  let [low, high] = [0, FURTHER_AT_MOST - 1];
  if (reached(high) < enough) low = high;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (reached(middle) >= enough) high = middle;
    else low = middle + 1;
  }
  const share = shares[low]!;
  const probability = reached(low);
  return { ...share, probability, isEnough: probability >= enough };
}

/** A law of fewer parts: those of about the same width are joined, with their mean and variance. */
function joined({ parts }: AxisLaw): AxisLaw {
  const result: { weight: number; law: AxisLaw['parts'][number]['law'] }[] = [];
  let [weight, sum, squares] = [0, 0, 0];
  const sorted = [...parts].sort((a, b) => a.law.scale - b.law.scale);
  for (const [i, { weight: own, law }] of sorted.entries()) {
    weight += own;
    sum += own * law.mean;
    squares += own * (law.scale ** 2 + law.mean ** 2);
    if (weight < WEIGHT_AT_LEAST && i + 1 < sorted.length) continue;
    const mean = sum / weight;
    const scale = Math.sqrt(Math.max(0, squares / weight - mean ** 2));
    if (weight > 0) result.push({ weight, law: { mean, scale, df: Infinity } });
    [weight, sum, squares] = [0, 0, 0];
  }
  return { parts: result };
}

/** Probability that one coordinate is settled by a mean to come that is seen with a variance. */
function settling({ parts }: AxisLaw, seen: number, deadZone: number): number {
  const spreads = parts.map(({ law }) => Math.sqrt(law.scale ** 2 + seen));
  const low = Math.min(...parts.map(({ law }, i) => law.mean - 3 * spreads[i]!));
  const high = Math.max(...parts.map(({ law }, i) => law.mean + 3 * spreads[i]!));
  const then = parts.map(({ law }) => {
    const share = law.scale ** 2 / (law.scale ** 2 + seen);
    return { share, scale: Math.sqrt(share * seen) };
  });
  // No mean to come brings more of a law within the dead zone than its middle would.
  const canBeWithin = then.some(({ scale }) => withinOf(scale, deadZone) >= LIKELY);
  let [settled, all] = [0, 0];
  for (let k = 0; k < FUTURES; k++) {
    const mean = low + ((high - low) * (k + 0.5)) / FUTURES;
    // Of each part but for a factor that they have in common.
    const likely = parts.map(({ weight, law }, i) => {
      const z = (mean - law.mean) / spreads[i]!;
      return (weight * Math.exp(-0.5 * z * z)) / spreads[i]!;
    });
    const total = likely.reduce((sum, p) => sum + p, 0);
    all += total;
    if (total === 0) continue;
    const lawThen: AxisLaw = {
      parts: parts.map(({ law }, i) => {
        const { share, scale } = then[i]!;
        return {
          weight: likely[i]! / total,
          law: { mean: law.mean + share * (mean - law.mean), scale, df: Infinity },
        };
      }),
    };
    if (isSettled(lawThen, canBeWithin ? deadZone : 0)) settled += total;
  }
  return all > 0 ? settled / all : 0;
}

/** How much of a normal law lies within a half-width of its middle. */
function withinOf(scale: number, halfWidth: number): number {
  return 1 - 2 * normal.cdf(-halfWidth / scale, 0, 1);
}

function isSettled(law: AxisLaw, deadZone: number): boolean {
  const above = massAboveValue(law, 0);
  if (Math.max(above, 1 - above) >= SURE) return true;
  return deadZone > 0 && massAboveValue(law, -deadZone) - massAboveValue(law, deadZone) >= LIKELY;
}
