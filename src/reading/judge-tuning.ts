import { ENGLISH, type Words } from '../words/words.ts';
import type { FaceId } from '../face/faces.ts';
import { USUAL_SCORING } from '../face/scoring.ts';
import { usualDistancesM } from '../face/usual-distances.ts';
import type { ArcherRecord } from '../groups/archer-record.ts';
import { groupsOf } from '../groups/groups-of.ts';
import type { Groups } from '../groups/groups.ts';
import { waysToTag, type WayToTag } from '../groups/suggest-kinds.ts';
import { looksBare } from '../groups/looks-bare.ts';
import type { ArrowKind, Mark } from '../marks/mark.ts';
import type { Hand, ReadingRequest } from '../request/request.ts';
import { learnRecord } from '../trends/learn-record.ts';
import { trendEnds } from '../trends/trend-ends.ts';
import { offsetByLog, readLogWithDoubts } from '../tuning/read-log.ts';
import { readTuning, type Supposition } from '../tuning/read-tuning.ts';
import type { Tuning } from '../tuning/advice/tuning.ts';
import type { Bow, SetUp } from '../tuning/bow/set-up.ts';
import type { BowLog } from '../tuning/record/bow-log.ts';
import type { Arrow, End, Session } from '../tuning/record/session.ts';
import { setUpAt } from '../tuning/record/set-up-at.ts';
import type { KnownOfArcher } from './known-of-archer.ts';
import type { GuessedTags, UsedLog } from './reading.ts';

/** An end to judge: its marks, and what a person said of it. */
export interface EndToJudge<M extends Mark = Mark> {
  readonly face: FaceId;
  /** Those that are `old` count for nothing. */
  readonly marks: readonly M[];
  readonly request: Pick<
    ReadingRequest,
    'hand' | 'distanceM' | 'preferredMrad' | 'fletched' | 'bare'
  >;
}

export interface Known {
  /** What the log knows of who shot. */
  readonly log?: { readonly of: KnownOfArcher; readonly at: string } | undefined;
  /** The archer's usual spread, where there is no log of them. */
  readonly record?: ArcherRecord | undefined;
}

/** What an end says of the bow, and by what it was judged. */
export interface TuningJudgement<M extends Mark = Mark> {
  /** As they came, but for tags that were guessed: these are the likeliest. */
  readonly marks: readonly M[];
  /** By the tags of `marks`. */
  readonly groups: Groups;
  /** Null unless there are both kinds. */
  readonly tuning: Tuning | null;
  readonly guessedTags: GuessedTags | null;
  /** Null where neither a person nor the log says it. */
  readonly hand: Hand | null;
  readonly preferredMrad: readonly [number, number];
  /** What a person should know of how it was judged, in English like all that a reading hands out. */
  readonly notes: readonly string[];
  /** Null where no log was used. */
  readonly usedLog: UsedLog | null;
}

/** Ways to tag beyond these change nothing that is said: together they are less likely than this. */
const NEGLECTED = 0.01;
/** Each way is held against the whole log, so there is an end to them. */
const WAYS_AT_MOST = 12;
/** So many answers are handed out to choose from. */
const ANSWERS = 3;

/**
 * The one judgement of an end, for every shell: the archer's usual spread and ratio of bare to
 * fletched as prior of the offset, the bow's response as what the advice rests on, the set-up's
 * preferred offset and the bow's hand, all as the log has them. The end itself counts as the bow's
 * newest. Where tags were guessed, the verdict is the mixture over the ways to tag; where nobody said
 * the distance, it is what holds from wherever the face is usually shot.
 */
export function judgeTuning<M extends Mark>(
  { face, marks, request }: EndToJudge<M>,
  known: Known,
  words: Words = ENGLISH,
): TuningJudgement<M> {
  const { distanceM } = request;
  const said = known.log ? saidByLog(request, known.log) : null;
  const { hand = null, preferredMrad } = said ?? request;
  const record = said ? said.record : known.record;
  const isGuess = marks.some(isGuessed);
  const answers = isGuess ? waysOf(marks, { ...request, record }) : null;
  const tagged = answers ? taggedBy(marks, answers[0]!) : marks;
  const groups = groupsOf(thisEnd(tagged), { distanceM, record });

  const logOf = <Read>(read: ReadsLog<Read>, arrows: readonly Mark[], atM: number) => {
    if (!said?.bow || !said.setUp) return null;
    const { bow, setUp, at } = said;
    const log = withThisEnd(face, arrows, { ...said.known, bow, setUp, at, distanceM: atM });
    return read(bow, log, { setUpId: setUp.id, record, distanceM: atM, preferredMrad, words });
  };
  const supposedFrom = (atM: number): Supposition => ({
    distanceM: atM,
    ways: (answers ? likeliest(waysOf(marks, { ...request, record, distanceM: atM })) : [null]).map(
      (way) => {
        const arrows = thisEnd(way ? taggedBy(marks, way) : marks);
        const own = groupsOf(arrows, { distanceM: atM, record });
        const log = own.offset ? logOf(offsetByLog, arrows, atM) : null;
        return { weight: way?.probability ?? 1, groups: own, log };
      },
    ),
  });
  const log =
    answers || distanceM === undefined || !groups.offset
      ? null
      : logOf(readLogWithDoubts, thisEnd(tagged), distanceM);
  return {
    marks: tagged,
    groups,
    tuning:
      groups.offset &&
      readTuning(groups, {
        hand,
        distanceM,
        preferredMrad,
        record,
        words,
        ...(log ? { log } : {}),
        supposed:
          answers === null && distanceM !== undefined
            ? [{ distanceM, ways: [{ weight: 1, groups, log }] }]
            : (distanceM === undefined ? usualDistancesM(face) : [distanceM]).map(supposedFrom),
        pOfTags: answers?.[0]!.probability,
      }),
    guessedTags: answers && {
      ways: answers.slice(0, ANSWERS).map(({ bare, probability }) => ({
        bare: thisEnd(marks).flatMap(({ id }, i) => (bare.has(i) ? [id] : [])),
        p: probability,
      })),
    },
    hand,
    preferredMrad,
    notes: said?.notes ?? [],
    usedLog: said?.used ?? null,
  };
}

type ReadsLog<Read> = (
  bow: Bow,
  log: BowLog,
  options: Parameters<typeof readLogWithDoubts>[2],
) => Read | null;

/** The marks that count for this end. */
function thisEnd<M extends Mark>(marks: readonly M[]): M[] {
  return marks.filter((mark) => mark.age !== 'old');
}

function isGuessed({ age, kindFrom }: Pick<Mark, 'age' | 'kindFrom'>): boolean {
  return age !== 'old' && kindFrom === 'pattern';
}

/** Guessed tags put right by a way to share the kinds out among the end's marks; told ones stand. */
function taggedBy<M extends Mark>(marks: readonly M[], { bare }: WayToTag): M[] {
  const bareIds = new Set(thisEnd(marks).flatMap(({ id }, i) => (bare.has(i) ? [id] : [])));
  return marks.map((mark) => {
    const kind: ArrowKind = bareIds.has(mark.id) ? 'bare' : 'fletched';
    return isGuessed(mark) ? { ...mark, kind } : mark;
  });
}

/** The ways to tag the marks of an end of which some were guessed, the likeliest first. */
function waysOf(
  marks: readonly Mark[],
  {
    fletched,
    bare,
    distanceM,
    record,
  }: EndToJudge['request'] & { readonly record: ArcherRecord | undefined },
): WayToTag[] {
  const own = thisEnd(marks);
  const count = (kind: ArrowKind) => own.filter((mark) => mark.kind === kind).length;
  return waysToTag(
    own.map((mark) => ({ mm: mark.mm, looksBare: isGuessed(mark) ? undefined : looksBare(mark) })),
    { fletched: fletched ?? count('fletched'), bare: bare ?? count('bare'), distanceM, record },
  );
}

function likeliest(ways: readonly WayToTag[]): WayToTag[] {
  let left = 1;
  return ways.filter(({ probability }, i) => {
    const isTaken = i < WAYS_AT_MOST && left > NEGLECTED;
    left -= probability;
    return isTaken;
  });
}

const THE_LOG_SAYS = {
  right: 'The log says that {name} is right-handed: that counts.',
  left: 'The log says that {name} is left-handed: that counts.',
} as const;

/** What the log says of who shot an end and with what. */
function saidByLog(request: EndToJudge['request'], { of: known, at }: NonNullable<Known['log']>) {
  const { archer, bow, setUps, setUpId, ends, sessions } = known;
  const hand = bow?.hand ?? archer.hand;
  const notes: string[] = [];
  if (request.hand && request.hand !== hand) {
    notes.push(ENGLISH.say(THE_LOG_SAYS[hand], { name: bow?.name ?? archer.name }));
  }
  const record = learnRecord(trendEnds(known), { at }) ?? undefined;
  const setUp = setUps.find(({ id }) => id === setUpId) ?? setUpAt(known, at);
  const asked = request.preferredMrad.some((mrad) => mrad !== 0);
  const ofBow = new Set(sessions.filter(({ bowId }) => bowId === bow?.id).map(({ id }) => id));
  const preferred = asked || !setUp ? request.preferredMrad : setUp.preferredMrad;
  const used: UsedLog = {
    archer: archer.id,
    bow: bow?.id ?? null,
    setUp: setUp?.id ?? null,
    ends: bow ? ends.filter((end) => ofBow.has(end.sessionId)).length : ends.length,
    hand,
    preferredMrad: preferred,
  };
  return {
    known,
    at,
    bow,
    setUp,
    hand,
    record,
    preferredMrad: preferred,
    notes,
    used,
  };
}

/** An end's id among the log's ends, where it is not kept yet. */
const THIS_END = 'this-reading';

interface ThisEnd extends KnownOfArcher {
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly distanceM: number;
  readonly at: string;
}

/** The bow's log with the end in hand, in that day's session if there is one. */
function withThisEnd(
  face: FaceId,
  marks: readonly Mark[],
  { bow, setUp, distanceM, at, archer, setUps, ends, sessions }: ThisEnd,
): BowLog {
  const own = sessions.filter((session) => session.bowId === bow.id);
  const ids = new Set(own.map(({ id }) => id));
  const session: Session = own.find(
    (one) => one.date.slice(0, 10) === at.slice(0, 10) && one.distanceM === distanceM,
  ) ?? {
    id: THIS_END,
    archerId: archer.id,
    bowId: bow.id,
    setUpId: setUp.id,
    date: at,
    place: '',
    setting: null,
    wind: '',
    distanceM,
    face,
    notes: '',
  };
  const end: End = {
    id: THIS_END,
    sessionId: session.id,
    setUpId: setUp.id,
    shotAt: at,
    arrows: marks.map(({ id, mm, sdMm, spot, kind }): Arrow => ({
      id,
      mm: [mm[0], mm[1]],
      sdMm,
      spot,
      kind,
      // The bow's response asks for places alone.
      zone: 0,
      inner: false,
    })),
    missed: { fletched: 0, bare: 0 },
    scoring: USUAL_SCORING,
    photo: null,
    setAside: false,
    notes: '',
  };
  return {
    setUps,
    sessions: ids.has(session.id) ? own : [...own, session],
    ends: [...ends.filter((one) => ids.has(one.sessionId)), end],
  };
}
