import type { Adjuster, Bow } from '../bow/set-up.ts';
import { stepOf } from '../bow/setting-amount.ts';
import type { ResponseEnd } from './response-ends.ts';
import { responseModel, type ResponseModel, type ResponseOptions } from './response-model.ts';

/** A change that was written down one way and acted the other. */
export interface DoubtedEntry {
  readonly adjuster: Adjuster;
  /** As it was written down, in amounts. */
  readonly change: number;
  /** Of the first end after it. */
  readonly endId: string;
  readonly label: string;
  /** Probability that it was written down the wrong way round. */
  readonly p: number;
}

/** How many entries are written down the wrong way round (own judgement). */
const REVERSED = 0.03;
/** From this probability on an entry is asked about: asking costs a look into the book. */
const ASKED_FROM = 0.15;
/** A change of one step moves too little to tell which way it went. */
const STEPS_AT_LEAST = 2;
/** Nobody remembers which way an older change went. */
const LATEST = 8;

/**
 * The change whose effect most contradicts what was written down, null where none does: for each, the
 * ends are foretold as they are and with that one entry the other way round. An adjuster that always
 * works the other way round is no such entry: that is part of either.
 * @param asWritten the response by all entries as they are, worked out with the same options
 */
export function doubtedEntry(
  bow: Bow,
  asWritten: ResponseModel,
  options: ResponseOptions,
): DoubtedEntry | null {
  const { ends, logEvidence } = asWritten;
  const prior = Math.log(REVERSED / (1 - REVERSED));
  const entries = changesIn(bow, ends).map(({ adjuster, change, at }): DoubtedEntry => {
    const moved = (amounts: Readonly<Record<string, number>>) => ({
      ...amounts,
      [adjuster.id]: amounts[adjuster.id]! - 2 * change,
    });
    const turned = ends.map((end, i) => (i < at ? end : { ...end, amounts: moved(end.amounts) }));
    const present = moved(options.present);
    const otherwise = responseModel(bow, turned, { ...options, present });
    const log = otherwise.logEvidence - logEvidence + prior;
    const p = 1 / (1 + Math.exp(-log));
    const { id: endId, label } = ends[at]!;
    return { adjuster, change, endId, label, p };
  });
  const [likeliest] = entries.sort((a, b) => b.p - a.p);
  return likeliest && likeliest.p >= ASKED_FROM ? likeliest : null;
}

/** Changes of an adjuster from one end to the next, with the place of the first end after each. */
function changesIn(
  bow: Bow,
  ends: readonly ResponseEnd[],
): { readonly adjuster: Adjuster; readonly change: number; readonly at: number }[] {
  const changes = ends.slice(1).flatMap((end, before) =>
    bow.adjusters.flatMap((adjuster) => {
      const [from, to] = [ends[before]!.amounts[adjuster.id], end.amounts[adjuster.id]];
      if (from === undefined || to === undefined) return [];
      const change = to - from;
      const isLarge = Math.abs(change) >= STEPS_AT_LEAST * stepOf(adjuster) - 1e-9;
      return isLarge ? [{ adjuster, change, at: before + 1 }] : [];
    }),
  );
  return changes.slice(-LATEST);
}
