import type { Networks } from '../marks/network/networks.ts';
import type { OpenCv } from '../raster/load-open-cv.ts';

/** What a reading needs beside the photo; loaded once per process, worker or page. */
export interface Engine {
  readonly cv: OpenCv;
  /** Null where the networks' weights are not to be had: the hand-made evidence is used instead. */
  readonly networks: Networks | null;
}
