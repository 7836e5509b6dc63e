import { groupsOf } from '../../src/groups/groups-of.ts';
import { learnRecord } from '../../src/trends/learn-record.ts';
import { trendEnds } from '../../src/trends/trend-ends.ts';
import type { Bow } from '../../src/tuning/bow/set-up.ts';
import { readLog } from '../../src/tuning/read-log.ts';
import { readTuning } from '../../src/tuning/read-tuning.ts';
import { keep, QUIET, type Evening } from '../simulation/kept-evenings.ts';
import { chance, type Chance } from '../simulation/virtual-archer.ts';
import { ADJUSTERS, setUpOf } from './bench-log.ts';

const BOW: Bow = { id: 'bow', archerId: 'a', name: 'Bow', hand: 'right', adjusters: ADJUSTERS, notes: '' }; // prettier-ignore
const SET_UPS = [
  setUpOf('u', '2031-03-01T08:00:00Z', { clicks: 50, nockMm: 10 }, [0, 0]),
  setUpOf('before', '2031-02-01T08:00:00Z', { clicks: 40, nockMm: 9 }, [0, 0]),
];
/** What else is known of the archer: nothing, four evenings of another set-up, two ends of this bow. */
const KNOWN = ['nothing', 'record', 'log'] as const;
/** Bows by how far off they are per axis, mrad. */
const OFF = [0.2, 1.5, 3, 6];

/** Whether more arrows were said to settle it four times in five, and whether these settled it. */
function playPromise(offMrad: number, known: (typeof KNOWN)[number], luck: Chance) {
  const { uniform, normal } = luck;
  const offset = [offMrad * normal(), offMrad * normal()] as const;
  const shooting: Evening = {
    ...QUIET,
    sessionId: 'today',
    setUpId: 'u',
    aimMrad: 0,
    sigmaMrad: 0.8 * 5 ** uniform(),
    bareRatio: 1.2 * Math.exp(0.2 * normal()),
  };
  const { distanceM } = shooting;
  const day = () => [offset[0] + 0.4 * normal(), offset[1] + 0.4 * normal()] as const;
  const earlier =
    known === 'record'
      ? [1, 2, 3, 4].map((i) => ({ ...shooting, sessionId: `s${i}`, setUpId: 'before', ends: 5 }))
      : known === 'log'
        ? [{ ...shooting, sessionId: 's1', ends: 2, offsetMrad: day() }]
        : [];
  const today = { ...shooting, offsetMrad: known === 'log' ? day() : offset };
  const judged = (evenings: readonly Evening[]) => {
    const { sessions, ends } = keep([...earlier, ...evenings], luck);
    return { sessions: [...sessions], ends: [...ends] };
  };
  const first = judged([today]);
  const end = first.ends.at(-1)!;
  const record =
    known === 'nothing' ? undefined : (learnRecord(trendEnds({ ...first, ends: first.ends.slice(0, -1) }), { at: end.shotAt }) ?? undefined); // prettier-ignore
  const tuningOf = (arrows: typeof end.arrows) => {
    const ends = [...first.ends.slice(0, -1), { ...end, arrows }];
    const log =
      known === 'log'
        ? readLog(BOW, { setUps: SET_UPS, sessions: first.sessions, ends }, { setUpId: 'u', record, distanceM }) // prettier-ignore
        : null;
    const groups = groupsOf(arrows, { distanceM, record });
    return readTuning(groups, { hand: 'right', distanceM, record, ...(log ? { log } : {}) })!;
  };
  const before = tuningOf(end.arrows);
  const isPromised = before.advice.some(({ reason }) => reason.includes('four times in five'));
  if (!isPromised) return { isPromised, isKept: false };
  const { fletched, bare } = before.shootMore!;
  const more = keep([{ ...today, fletched, bare }], luck).ends[0]!.arrows;
  const after = tuningOf([...end.arrows, ...more.map((arrow) => ({ ...arrow, id: `m${arrow.id}` }))]); // prettier-ignore
  const isKept = (['horizontal', 'vertical'] as const)
    .filter((axis) => before[axis].certainty === 'undecided')
    .every((axis) => {
      const { direction, certainty } = after[axis];
      return certainty === 'sure' || (direction === 'level' && certainty !== 'undecided');
    });
  return { isPromised, isKept };
}

/** How often more arrows settle it where that was said to happen four times in five. */
export function promiseBench(options: { readonly ends?: number; readonly seed?: number }): void {
  const { ends = 2000, seed = 1 } = options;
  console.log(`More arrows said to settle it four times in five, ${ends} ends each, seed ${seed}; asked: 76 to 84 % of them`); // prettier-ignore
  console.log('known      off mrad   said in % of ends   kept %   s.e.');
  for (const known of KNOWN) {
    let [allSaid, allKept] = [0, 0];
    const line = (off: string, said: number, kept: number, of: number) => {
      const share = kept / Math.max(1, said);
      const error = Math.sqrt((share * (1 - share)) / Math.max(1, said));
      console.log(
        known.padEnd(10) +
          off.padStart(9) +
          ((100 * said) / of).toFixed(1).padStart(20) +
          (100 * share).toFixed(1).padStart(9) +
          (100 * error).toFixed(1).padStart(7),
      );
    };
    for (const offMrad of OFF) {
      let [said, kept] = [0, 0];
      for (let i = 0; i < ends; i++) {
        const { isPromised, isKept } = playPromise(offMrad, known, chance(7919 * seed + 31 * i));
        said += isPromised ? 1 : 0;
        kept += isKept ? 1 : 0;
      }
      line(offMrad.toFixed(1), said, kept, ends);
      [allSaid, allKept] = [allSaid + said, allKept + kept];
    }
    line('all', allSaid, allKept, OFF.length * ends);
  }
}
