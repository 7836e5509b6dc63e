import type { FlatFace } from '../../fit/flat/flatten.ts';
import { levelExceededBy } from '../../raster/level-exceeded-by.ts';
import { BLACK, pixelWords } from '../../raster/pixel-words.ts';

/** Largest level of a pixel's three that white paper and bright inks reach in a well exposed photo. */
const WELL_EXPOSED = 225;
/** Part of the face that is brighter than the level which is brought there: paper, gold, highlights. */
const BRIGHTEST = 0.05;
/** No photo is so dark that more than this factor could tell anything but noise. */
const MOST_GAIN = 8;
/** Brightness is counted in every so many pixels. */
const STEP = 7;

/**
 * A flat face as bright as a well exposed photo shows it: all levels in proportion, for everything that
 * tells marks by how much darker they are was made for such photos. Faces that are bright enough come
 * back as they are.
 */
export function exposed(flat: FlatFace): FlatFace {
  const brightest = brightestLevel(flat);
  if (brightest >= WELL_EXPOSED) return flat;
  const gain = Math.min(MOST_GAIN, WELL_EXPOSED / brightest);
  const level = Uint8ClampedArray.from({ length: 256 }, (_, value) => value * gain);
  const { width, height, data } = flat.raster;
  const raster = { width, height, data: new Uint8ClampedArray(data.length) };
  raise(pixelWords(flat.raster), level, pixelWords(raster));
  return { ...flat, raster };
}

/** Writes every pixel with other levels; what is alpha stays. */
function raise(words: Uint32Array, level: Uint8ClampedArray, out: Uint32Array): void {
  for (let i = 0; i < words.length; i++) {
    const word = words[i]! | 0;
    out[i] =
      (word & BLACK) |
      (level[(word >>> 16) & 0xff]! << 16) |
      (level[(word >>> 8) & 0xff]! << 8) |
      level[word & 0xff]!;
  }
}

/** Level that only the brightest part of what the photo shows of the face exceeds. */
function brightestLevel({ raster, seen }: FlatFace): number {
  const words = pixelWords(raster);
  const counts = new Uint32Array(256);
  let counted = 0;
  for (let i = 0; i < words.length; i += STEP) {
    if (!seen[i]) continue;
    const word = words[i]!;
    counts[Math.max(word & 0xff, (word >>> 8) & 0xff, (word >>> 16) & 0xff)]!++;
    counted++;
  }
  return levelExceededBy(BRIGHTEST, counts, counted);
}
