import { z } from 'zod';
import { FACE_IDS } from '../face/faces.ts';
import { SCORING_IDS } from '../face/scoring.ts';
import { groupsSchema } from '../groups/groups.ts';
import { handSchema } from '../request/request.ts';
import { tuningSchema } from '../tuning/advice/tuning.ts';
import { arrowNumberSchema } from '../request/arrow-number.ts';

const pair = z.tuple([z.number(), z.number()]);

const place = pair.readonly();

export const markSchema = z.object({
  id: z.string(),
  spot: z.int().min(0),
  mm: place,
  /** In the first photo; null where only the second of two shows the mark. */
  px: place.nullable(),
  sdMm: z.number().nonnegative(),
  radialSdMm: z.number().nonnegative().optional(),
  state: z.enum(['hole', 'standing']),
  age: z.enum(['fresh', 'old', 'unknown']),
  kind: z.enum(['fletched', 'bare', 'unknown']),
  /** What `kind` rests on; null while it is unknown. Earlier readings do not say. */
  kindFrom: z.enum(['vanes', 'person', 'count', 'pattern']).nullable().optional(),
  confidence: z.number().min(0).max(1),
  /** As written on the shaft; absent where nobody said. */
  arrowNumber: arrowNumberSchema.optional(),
  note: z.string().optional(),
  zone: z.int().min(0).max(10),
  inner: z.boolean(),
  lineCall: z.object({ zone: z.int().min(0).max(10), p: z.number() }).nullable(),
});

/** Something that was not counted as a mark: a mark added near it lies there. */
const uncountedSchema = z.object({
  spot: z.int().min(0),
  mm: place,
  px: place,
  sdMm: z.number().nonnegative(),
  radialSdMm: z.number().nonnegative().optional(),
  probability: z.number().min(0).max(1),
});

/** A face in the photo, roughly. */
const seenFaceSchema = z.object({ centrePx: place, radiusPx: z.number().positive() });

/**
 * How sure it is which marks are the bare shafts, where that was guessed: the likeliest ways to share
 * the kinds out, the likeliest first, with the ids of the bare shafts.
 */
const guessedTagsSchema = z.object({
  ways: z.array(z.object({ bare: z.array(z.string()), p: z.number().min(0).max(1) })),
});
export type GuessedTags = z.infer<typeof guessedTagsSchema>;

/** What every shell hands out for a photo: plain data, lengths in mm, angles in degrees. */
export const readingSchema = z.object({
  face: z.enum(FACE_IDS),
  /** Diameter that marks were looked for, and lines called, with. Earlier readings do not say. */
  shaftMm: z.number().positive().optional(),
  fit: z.object({
    residualMm: z.number(),
    tiltDeg: z.number(),
    spots: z.array(
      z.object({
        centrePx: pair,
        upPx: pair,
        rings: z.array(z.object({ radiusMm: z.number(), px: z.array(pair) })),
      }),
    ),
    notes: z.array(z.string()),
  }),
  marks: z.array(markSchema),
  uncounted: z.array(uncountedSchema).default([]),
  /** Every face that is seen in the photo, the one that was read first. */
  faces: z.array(seenFaceSchema).default([]),
  score: z.object({
    total: z.number(),
    inners: z.number(),
    arrows: z.number(),
    /** What equal totals are parted by. Earlier readings do not say. */
    tieBreak: z.object({ of: z.enum(['X', 'tens', 'golds']), count: z.int().min(0) }).optional(),
  }),
  /** By which rule arrows were valued. Earlier readings do not say: as printed. */
  scoring: z.enum(SCORING_IDS).optional(),
  groups: groupsSchema.nullable(),
  /** Null unless there are both kinds: an end without bare shafts says nothing of the bow. */
  tuning: tuningSchema.nullable(),
  /** Null where vanes, a person or the counts told every kind. */
  guessedTags: guessedTagsSchema.nullable().default(null),
  warnings: z.array(z.string()),
});
export type Reading = z.infer<typeof readingSchema>;

/** What of the log a reading was judged with: ids, and how many kept ends it rests on. */
export const usedLogSchema = z.object({
  archer: z.string(),
  bow: z.string().nullable(),
  setUp: z.string().nullable(),
  ends: z.int().min(0),
  /**
   * The bow's hand, null where nobody said it, and where its bare shafts are wanted, mrad, as it was
   * judged by. Earlier lines do not say.
   */
  hand: handSchema.nullable().optional(),
  preferredMrad: pair.optional(),
});
export type UsedLog = z.infer<typeof usedLogSchema>;

/** One line of RESULTS.jsonl and the output of `read --json`. */
export const readingResultSchema = z.discriminatedUnion('ok', [
  z.object({
    photo: z.string(),
    ok: z.literal(true),
    elapsedMs: z.number(),
    reading: readingSchema,
    /** Absent where no log was used. */
    log: usedLogSchema.optional(),
  }),
  z.object({
    photo: z.string(),
    ok: z.literal(false),
    elapsedMs: z.number(),
    error: z.object({
      code: z.string(),
      message: z.string(),
      /** The face that the photo seems to show, where another was said. */
      looksLike: z.enum(FACE_IDS).optional(),
    }),
  }),
]);
export type ReadingResult = z.infer<typeof readingResultSchema>;
