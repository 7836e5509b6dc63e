import type { Mark } from '../marks/mark.ts';

type Seen = Pick<Mark, 'age' | 'state' | 'confidence'>;

export interface Shot {
  readonly fletched?: number | undefined;
  readonly bare?: number | undefined;
}

/**
 * Whether a reading without a photo from before would gain by one: holes were told apart, or could not
 * be told apart, by their looks alone.
 */
export function wouldGainByBefore(marks: readonly Seen[], { fletched, bare }: Shot): boolean {
  if (fletched === undefined || bare === undefined) return false;
  // Where arrows stand, holes are old: nothing is left to tell apart.
  if (marks.some((mark) => mark.state === 'standing')) return false;
  return marks.length > fletched + bare || marks.some((mark) => mark.age !== 'fresh');
}

/**
 * Whether the reading against an earlier photo is to be used instead of the one without: it must find
 * as many new marks as arrows were shot, and be surer of them. Against a photo of another face, or one
 * taken after the same end, it is not.
 */
export function beforeHelps(
  withBefore: readonly Seen[],
  alone: readonly Seen[],
  { fletched, bare }: Shot,
): boolean {
  if (fletched === undefined || bare === undefined) return false;
  const fresh = withBefore.filter((mark) => mark.age === 'fresh');
  if (fresh.length === 0 || fresh.length !== fletched + bare) return false;
  return certainty(fresh) > certainty(alone.filter((mark) => mark.age !== 'old'));
}

/** Probability that all of them are right. */
function certainty(marks: readonly Seen[]): number {
  return marks.reduce((p, mark) => p * mark.confidence, 1);
}
