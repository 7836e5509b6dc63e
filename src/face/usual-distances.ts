import type { FaceId } from './faces.ts';

/** In metres. */
const YARDS = { 20: 18.3, 30: 27.4, 40: 36.6, 60: 54.9 } as const;

/**
 * From where a face is usually shot, m, nearest first. The first list of each pair is what the rules
 * of a round say; the second is where clubs hang it besides, for practice and tuning (common
 * practice, no published source).
 *
 * Rules: World Archery rule book, Book 2 (outdoor rounds: 122 cm at 60, 70 and 90 m, 80 cm at 30 and
 * 50 m; indoor rounds: 60 cm at 25 m, 40 cm at 18 m) as published summaries give it; Book 4 (field
 * rounds, nearest and furthest peg of each face) and the IFAA book of rules (field and indoor rounds)
 * from memory.
 */
// prettier-ignore
const DISTANCES: Readonly<Record<FaceId, readonly [rules: readonly number[], besides: readonly number[]]>> = {
  wa122: [[60, 70, 90], [30, 40, 50]],
  wa80: [[30, 50], [18, 20, 25, 40]],
  'wa80-6': [[50], [30, 40]],
  'wa80-5': [[30, 50], [18, 20, 25, 40]],
  wa60: [[25], [18, 20, 30]],
  wa40: [[18], [10, 20, 25]],
  'wa40-5': [[18], [10, 20, 25]],
  'wa40-triple-vertical': [[18], [10, 20, 25]],
  'wa40-triple-triangular': [[18], [10, 20, 25]],
  'wa60-triple-vertical': [[25], [18, 20, 30]],
  'wa60-triple-triangular': [[25], [18, 20, 30]],
  'field-80': [[30, 60], [40, 50]],
  'field-60': [[20, 45], [30]],
  'field-40': [[10, 25], [18]],
  'field-20': [[5, 15], [10]],
  ifaa65: [[YARDS[40], YARDS[60]], [30, 50]],
  ifaa50: [[YARDS[30], YARDS[40]], [30]],
  ifaa35: [[15, YARDS[30]], [YARDS[20]]],
  ifaa20: [[6, 11], [10]],
  'ifaa40-indoor': [[YARDS[20]], [10, 18, 25]],
};

export function usualDistancesM(face: FaceId): readonly number[] {
  return DISTANCES[face].flat().sort((a, b) => a - b);
}

/** From where bare shafts are shot, m, at a face of which nothing is known (common practice, no published source). */
export const DISTANCES_AT_FIRST: readonly number[] = [10, 18, 30, 50, 70, 90];
