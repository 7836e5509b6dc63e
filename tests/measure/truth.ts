import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { FACE_IDS } from '../../src/face/faces.ts';
import { LIVED, TIDY } from '../rendering/scene.ts';

const pair = z.tuple([z.number(), z.number()]);

/** The truth beside a test photo (see test-images/README.md), as far as measuring needs it. */
const truthSchema = z.object({
  photo: z.string(),
  category: z.enum([...TIDY, 'pair', ...LIVED]),
  face: z.enum(FACE_IDS),
  phase: z.enum(['before', 'after']).nullable(),
  pairOf: z.string().nullable(),
  /** A second photo of the same end. */
  also: z.string().nullable().default(null),
  shaft_mm: z.number(),
  /** What is said of the shaft, where that is not its diameter; null where nothing is. */
  said: z.object({ shaft_mm: z.number().nullable() }).optional(),
  handedness: z.enum(['right', 'left']),
  distance_m: z.number(),
  up_px: pair,
  spots: z.array(
    z.object({
      centre_px: pair,
      rings: z.array(z.object({ radius_mm: z.number(), px: z.array(pair.nullable()) })),
    }),
  ),
  shots: z.array(
    z.object({
      kind: z.enum(['fletched', 'bare']),
      spot: z.number().default(0),
      px: pair,
      spot_mm: pair,
      shaft_mm: z.number(),
      zone: z.number(),
      visible: z.boolean().default(true),
      nock_px: pair.optional(),
    }),
  ),
  old: z.array(
    z.object({
      mm: pair,
      px: pair,
      spot: z.number().default(0),
      spot_mm: pair.optional(),
      in_frame: z.boolean().default(true),
    }),
  ),
});
export type Truth = z.infer<typeof truthSchema>;

/** All truths of a folder, by name; photos from before an end only stand beside their pair. */
export function truthsIn(folder: string): Truth[] {
  return readdirSync(folder)
    .filter(
      (name) => name.endsWith('.json') && existsSync(join(folder, name.replace(/json$/, 'jpg'))),
    )
    .sort()
    .map((name) => truthSchema.parse(JSON.parse(readFileSync(join(folder, name), 'utf8'))))
    .filter((truth) => truth.phase !== 'before');
}

/** The request a person who knows the end would make. */
export function requestFor(truth: Truth) {
  const count = (kind: 'fletched' | 'bare') =>
    truth.shots.filter((shot) => shot.kind === kind).length;
  return {
    face: truth.face,
    shaftMm: truth.shaft_mm,
    fletched: count('fletched'),
    bare: count('bare'),
    hand: truth.handedness,
    distanceM: truth.distance_m,
  };
}

/** The same, with the shaft as it was said or left unsaid. */
export function requestAsSaid(truth: Truth) {
  const { shaftMm, ...known } = requestFor(truth);
  const said = truth.said ? truth.said.shaft_mm : shaftMm;
  return said === null ? known : { ...known, shaftMm: said };
}
