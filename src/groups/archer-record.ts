import { z } from 'zod';

/** How wide an archer shoots, learned over sessions, at angular scale; the prior of a new end. */
export const archerRecordSchema = z.object({
  /** Isotropic standard deviation per axis of fletched arrows. */
  sigmaMrad: z.number().positive('A spread is greater than zero.'),
  /** Arrows it rests on, older ones counted for less. */
  arrows: z.number().min(0),
  /** Spread of bare shafts over that of fletched arrows: median and standard deviation of its log. */
  bareSpread: z
    .object({
      ratio: z.number().positive(),
      logSd: z.number().positive(),
      /**
       * Of the log of the ratio with that of `sigmaMrad`, negative when both were learned from the
       * same arrows: were the fletched ones lucky, the ratio is too large. @default 0
       */
      correlation: z.number().min(-0.999).max(0.999).optional(),
    })
    .optional(),
  /** Standard deviation of the log of a day's spread about the record. */
  dayLogSd: z.number().nonnegative().optional(),
});
export type ArcherRecord = z.infer<typeof archerRecordSchema>;
