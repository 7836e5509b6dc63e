import { ENGLISH, type Words } from '../../words/words.ts';
import { scatterOf } from '../../groups/scatter.ts';
import type { BowLog } from '../record/bow-log.ts';
import type { Bow, SetUp } from '../bow/set-up.ts';
import { settingAmount } from '../bow/setting-amount.ts';

/** What one end says about the bow: its offset, and the settings it was shot with. */
export interface ResponseEnd {
  readonly id: string;
  readonly sessionId: string;
  /** How a person finds it again: '2031-05-04, end 2'. */
  readonly label: string;
  /** By adjuster id, as amounts (clicks, units, grades). */
  readonly amounts: Readonly<Record<string, number>>;
  readonly offsetMrad: readonly [number, number];
  readonly fletched: number;
  readonly bare: number;
  /** Squared distances from the own group's centre, mrad2. */
  readonly squaresMrad2: { readonly fletched: number; readonly bare: number };
}

/**
 * The ends of a bow's log that tell its response: those with both kinds of arrow that were not set
 * aside, oldest first, of sessions whose distance is known. An adjuster that a set-up does not give is
 * taken from the set-up before it; where nothing was written down, nobody knows what changed in between,
 * and the end tells nothing.
 */
export function responseEnds(
  bow: Bow,
  log: BowLog,
  { say, sheetDay }: Words = ENGLISH,
): ResponseEnd[] {
  const amounts = amountsBySetUp(bow, log.setUps);
  const sessions = new Map(
    log.sessions.filter((session) => session.bowId === bow.id).map((one) => [one.id, one]),
  );
  const numbers = new Map<string, number>();
  const result: ResponseEnd[] = [];
  const ends = [...log.ends].sort((a, b) => Date.parse(a.shotAt) - Date.parse(b.shotAt));
  for (const end of ends) {
    const session = sessions.get(end.sessionId);
    const settings = amounts.get(end.setUpId);
    if (!session) continue;
    const number = (numbers.get(session.id) ?? 0) + 1;
    numbers.set(session.id, number);
    const { distanceM } = session;
    if (!settings || Object.keys(settings).length === 0) continue;
    if (end.setAside || distanceM === null) continue;
    const mrad = (kind: 'fletched' | 'bare') =>
      end.arrows
        .filter((arrow) => arrow.kind === kind)
        .map(({ mm }) => [mm[0] / distanceM, mm[1] / distanceM] as const);
    const [fletched, bare] = [mrad('fletched'), mrad('bare')];
    if (fletched.length === 0 || bare.length === 0) continue;
    const [f, b] = [scatterOf(fletched), scatterOf(bare)];
    result.push({
      id: end.id,
      sessionId: session.id,
      label: say('{day}, end {number}', { day: sheetDay(session.date), number }),
      amounts: settings,
      offsetMrad: [b.mean[0] - f.mean[0], b.mean[1] - f.mean[1]],
      fletched: f.n,
      bare: b.n,
      squaresMrad2: { fletched: f.sumOfSquares, bare: b.sumOfSquares },
    });
  }
  return result;
}

/** Every set-up's settings as amounts, gaps filled from the one before. */
export function amountsBySetUp(
  bow: Bow,
  setUps: readonly SetUp[],
): Map<string, Readonly<Record<string, number>>> {
  const result = new Map<string, Readonly<Record<string, number>>>();
  let carried: Record<string, number> = {};
  const own = setUps.filter((setUp) => setUp.bowId === bow.id);
  for (const setUp of own.sort((a, b) => Date.parse(a.date) - Date.parse(b.date))) {
    carried = { ...carried };
    for (const adjuster of bow.adjusters) {
      const setting = setUp.settings[adjuster.id];
      const amount = setting ? settingAmount(adjuster, setting) : null;
      if (amount !== null) carried[adjuster.id] = amount;
    }
    result.set(setUp.id, carried);
  }
  return result;
}
