import { z } from 'zod';

const pair = z.tuple([z.number(), z.number()]);

export const groupSchema = z.object({
  n: z.int().min(1),
  meanMm: pair,
  /** Isotropic standard deviation per axis with the small-sample correction; null below 2 arrows. */
  sigmaMm: z.number().nullable(),
  sigmaInterval95Mm: pair.nullable(),
  meanRadiusMm: z.number().nullable(),
  extremeSpreadMm: z.number().nullable(),
  /** Unbiased sample covariance, mm2; null below 2 arrows. */
  covarianceMm2: z.tuple([pair, pair]).nullable(),
  /** 95 % region of the group's true centre, full covariance (Hotelling); null below 3 arrows. */
  centreRegion95Mm: z.object({ semiAxes: pair, angleDeg: z.number() }).nullable(),
});
export type Group = z.infer<typeof groupSchema>;

export const offsetSchema = z.object({
  mm: pair,
  mrad: pair.nullable(),
  region90Mrad: z.object({ centre: pair, semiAxes: pair, angleDeg: z.number() }).nullable(),
  /** Posterior probability that the bare centre is above, and to the archer's right of, the fletched. */
  probability: z.object({ high: z.number(), right: z.number() }),
  /**
   * The offset's posterior about `mm`: a round bivariate t with this scale per axis, with today's
   * fletched spread and the bare shafts' spread over it. Null when nothing tells the spread.
   */
  posterior: z
    .object({ scaleMm: z.number(), df: z.number(), sigmaMm: z.number(), bareRatio: z.number() })
    .nullable(),
  /** Posterior probability outside the contour through zero: small when there is an offset. */
  pNone: z.number().nullable(),
  hotelling: z.object({ t2: z.number(), f: z.number(), df: pair, p: z.number() }).nullable(),
});
export type Offset = z.infer<typeof offsetSchema>;

export const groupsSchema = z.object({
  fletched: groupSchema.nullable(),
  bare: groupSchema.nullable(),
  offset: offsetSchema.nullable(),
});
export type Groups = z.infer<typeof groupsSchema>;
