import { placeOfPath } from './place-of-path.ts';

export interface EveningPhoto {
  /** With forward slashes, below what the person chose; names the photo in results. */
  readonly path: string;
  /** By the camera's own clock, ISO 8601 without a zone. */
  readonly takenAt?: string;
}

export interface OrderedPhoto extends EveningPhoto {
  /** Empty where nothing tells; a person can say later. */
  readonly archer: string;
  readonly bow: string;
  /** From 1, counted per archer and bow. */
  readonly session: number;
  readonly end: number;
  /** Path of the photo that its name says was taken before this end. */
  readonly before: string | null;
  /** Path of the photo that its name says shows this end from another side. */
  readonly also: string | null;
  /** Path of the photo before it in the session, which may show the same face. */
  readonly earlier: string | null;
}

/** A pause as long as this begins another session, hours (common practice, no published source). */
const PAUSE_HOURS = 3;

/**
 * Puts the photos of an evening in order: by archer and bow, then by time, else by name. Photos that
 * their names call "before" or another side of an end are no ends of their own where that end is there;
 * of several for one end the first is taken, the others are ends.
 */
export function orderEvening(photos: readonly EveningPhoto[]): OrderedPhoto[] {
  const placed = photos.map((photo) => ({ photo, place: placeOfPath(photo.path) }));
  const isEnd = ({ place: { view } }: (typeof placed)[number]) =>
    view !== 'before' && view !== 'also';
  const stems = new Set(placed.filter(isEnd).map(({ place }) => place.stem));
  const beside = { before: new Map<string, string>(), also: new Map<string, string>() };
  for (const { photo, place } of [...placed].sort((a, b) => inTime(a.photo, b.photo))) {
    const { view, stem } = place;
    if ((view === 'before' || view === 'also') && stems.has(stem) && !beside[view].has(stem)) {
      beside[view].set(stem, photo.path);
    }
  }
  const taken = new Set([...beside.before.values(), ...beside.also.values()]);
  const ends = placed.filter(({ photo }) => !taken.has(photo.path));
  const groups = new Map<string, typeof ends>();
  for (const end of ends) {
    const key = JSON.stringify([end.place.archer ?? '', end.place.bow ?? '']);
    groups.set(key, [...(groups.get(key) ?? []), end]);
  }
  return [...groups.values()].flatMap((group) => {
    group.sort((a, b) => inTime(a.photo, b.photo));
    let session = 1;
    let end = 0;
    return group.map((own, index): OrderedPhoto => {
      const { photo, place } = own;
      const besideIt = (view: 'before' | 'also') =>
        isEnd(own) ? (beside[view].get(place.stem) ?? null) : null;
      const last = group[index - 1]?.photo;
      const fresh = last !== undefined && isAnotherSession(last, photo);
      if (fresh) session++;
      end = fresh ? 1 : end + 1;
      return {
        ...photo,
        archer: place.archer ?? '',
        bow: place.bow ?? '',
        session,
        end,
        before: besideIt('before'),
        also: besideIt('also'),
        earlier: last === undefined || fresh || !isOneClock(last, photo) ? null : last.path,
      };
    });
  });
}

const byName = new Intl.Collator('en', { numeric: true });

function inTime(a: EveningPhoto, b: EveningPhoto): number {
  if (a.takenAt !== undefined && b.takenAt !== undefined && a.takenAt !== b.takenAt) {
    return a.takenAt < b.takenAt ? -1 : 1;
  }
  // A photo without a time goes behind those with one: an order by both would go in circles.
  if ((a.takenAt === undefined) !== (b.takenAt === undefined)) return a.takenAt ? -1 : 1;
  return byName.compare(a.path, b.path);
}

/** Without a clock the order of names stands in; between one with and one without nothing tells. */
function isOneClock(a: EveningPhoto, b: EveningPhoto): boolean {
  return (a.takenAt === undefined) === (b.takenAt === undefined);
}

function isAnotherSession(a: EveningPhoto, b: EveningPhoto): boolean {
  if (a.takenAt === undefined || b.takenAt === undefined) return false;
  return Date.parse(`${b.takenAt}Z`) - Date.parse(`${a.takenAt}Z`) >= PAUSE_HOURS * 3600_000;
}
