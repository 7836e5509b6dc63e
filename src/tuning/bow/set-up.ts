import { z } from 'zod';
import { handSchema } from '../../request/request.ts';

const id = z.string().min(1).max(80);
const name = z
  .string()
  .trim()
  .min(1, 'A name is needed.')
  .max(80, 'A name has at most 80 letters.');
const date = z.iso.datetime({ offset: true });

/** What a part does for the flight of the arrow; 'own' is anything an archer adds. */
export const ADJUSTER_PARTS = [
  'plunger',
  'plunger-spring',
  'nocking-point',
  'tiller',
  'limb-bolts',
  'draw-weight',
  'brace-height',
  'centre-shot',
  'spine',
  'arrow-length',
  'point-mass',
  'shaft-diameter',
  'own',
] as const;
export const adjusterPartSchema = z.enum(ADJUSTER_PARTS);
export type AdjusterPart = z.infer<typeof adjusterPartSchema>;

/** How an adjuster is read. */
export const adjusterScaleSchema = z.discriminatedUnion('type', [
  z.object({
    type: z.literal('number'),
    /** 'mm', 'turns', 'lb', 'g', ... */
    unit: z.string().trim().max(20),
    /** Smallest change that makes sense, in the unit. */
    step: z.number().positive('A step is greater than zero.'),
    min: z.number().optional(),
    max: z.number().optional(),
  }),
  /** A two-number reading: whole lines that show, and the dial's mark; one mark on is one click. */
  z.object({
    type: z.literal('dial'),
    positionsPerLine: z.int().min(2, 'A dial has at least 2 positions per line.').max(100),
    lines: z.int().min(1).max(60).optional(),
  }),
  /** One of a few, ordered from the softest, lowest or smallest. */
  z.object({
    type: z.literal('choice'),
    choices: z.array(z.string().trim().min(1)).min(2).max(20),
  }),
]);
export type AdjusterScale = z.infer<typeof adjusterScaleSchema>;

export const adjusterSchema = z.object({
  id,
  part: adjusterPartSchema,
  name,
  scale: adjusterScaleSchema,
  /** For a plunger: what a higher reading does. */
  higherIs: z.enum(['stiffer', 'softer']).optional(),
});
export type Adjuster = z.infer<typeof adjusterSchema>;

/** A reading of one adjuster, in the form of its scale. */
export const settingSchema = z.discriminatedUnion('type', [
  z.object({ type: z.literal('number'), value: z.number() }),
  z.object({ type: z.literal('dial'), line: z.int(), mark: z.int() }),
  z.object({ type: z.literal('choice'), choice: z.string() }),
]);
export type Setting = z.infer<typeof settingSchema>;

export const bowSchema = z.object({
  id,
  archerId: id,
  name,
  hand: handSchema,
  adjusters: z.array(adjusterSchema).max(40),
  notes: z.string().max(4000).default(''),
});
export type Bow = z.infer<typeof bowSchema>;

/** A dated snapshot of every adjuster of a bow. Snapshots never change; a change makes a new one. */
export const setUpSchema = z.object({
  id,
  bowId: id,
  name,
  date,
  /** By adjuster id. An adjuster that was not read is absent. */
  settings: z.record(z.string(), settingSchema),
  /** Where this archer wants the bare shafts, mrad [right, up] from the fletched centre. */
  preferredMrad: z.tuple([z.number(), z.number()]).default([0, 0]),
  notes: z.string().max(4000).default(''),
});
export type SetUp = z.infer<typeof setUpSchema>;
