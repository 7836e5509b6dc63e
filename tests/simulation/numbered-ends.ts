import type { Chance } from './virtual-archer.ts';

/** Shots with numbered arrows: this shares no code with the inference it tests. */
export interface NumberedShooting {
  readonly arrows: number;
  /** Shot in each end: drawn anew for each where there are fewer than arrows. */
  readonly perEnd: number;
  readonly ends: number;
  readonly sigma: number;
  /** Standard deviation of an end's aim, per axis. */
  readonly aimSd: number;
  /** Where arrows lie truly, by number; the others lie together. */
  readonly off?: Readonly<Record<string, readonly [number, number]>>;
  /** Share of shots three times as wide as the others. @default 0 */
  readonly wild?: number;
  /** Chance that a shot was not numbered, or its arrow fell off the face. @default 0 */
  readonly missing?: number;
  /** Arrows that break and are replaced by nothing: shot in the first so many ends only. */
  readonly until?: Readonly<Record<string, number>>;
}

export interface NumberedShot {
  readonly end: string;
  readonly arrow: string;
  readonly at: readonly [number, number];
}

export function numberedShots(
  { arrows, perEnd, ends, sigma, aimSd, off = {}, wild = 0, missing = 0, until = {} }: NumberedShooting, // prettier-ignore
  { uniform, normal }: Chance,
): NumberedShot[] {
  const shots: NumberedShot[] = [];
  for (let end = 0; end < ends; end++) {
    const aim = [aimSd * normal(), aimSd * normal()] as const;
    const quiver = Array.from({ length: arrows }, (_, i) => String(i + 1)).filter(
      (arrow) => end < (until[arrow] ?? Infinity),
    );
    for (let i = 0; i < perEnd && quiver.length > 0; i++) {
      const [arrow] = quiver.splice(Math.floor(uniform() * quiver.length), 1) as [string];
      const sd = uniform() < wild ? 3 * sigma : sigma;
      const place = off[arrow] ?? [0, 0];
      const at = [aim[0] + place[0] + sd * normal(), aim[1] + place[1] + sd * normal()] as const;
      if (uniform() >= missing) shots.push({ end: `e${end}`, arrow, at });
    }
  }
  return shots;
}
