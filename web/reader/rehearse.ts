import { FACES, type Ink } from '../../src/face/faces.ts';
import type { Raster } from '../../src/raster/raster.ts';
import type { Engine } from '../../src/reading/engine.ts';
import { readPhoto } from '../../src/reading/read-photo.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import { readingRequestSchema } from '../../src/request/request.ts';

const FACE = 'wa80';
/** Large enough that its rings are found, small enough to be read in a moment. */
const SIDE_PX = 400;
const PX_PER_MM = 0.4;
const SHAFT_MM = 6;
/** From the centre, mm. */
const HOLES_MM = [
  [-41, 22],
  [18, 63],
  [77, -30],
  [-96, -88],
  [130, 45],
  [-12, -150],
] as const;

/** Roughly as they are printed; a reading measures them anew. */
const INKS: Readonly<Record<Ink, string>> = {
  yellow: '#f0d746',
  red: '#d23c41',
  blue: '#46a5d7',
  navy: '#283c78',
  black: '#2d2d2d',
  white: '#ebebe6',
};
const AROUND = '#968c7d';
const HOLE = '#1e1c1a';

/**
 * Reads a drawn face, so that the browser has compiled what reads photos before the first one comes:
 * without that it takes twice as long as later ones.
 * It leaves a mark `rehearsed` in the browser's timeline.
 * @param isWanted whether a photo has come, which does not wait for the rest
 */
export async function rehearse(engine: Engine, isWanted: () => boolean): Promise<void> {
  const request = readingRequestSchema.parse({ face: FACE, shaftMm: SHAFT_MM });
  const photo = drawnFace();
  if (photo === null) return;
  const reading = readPhoto(photo, request, engine, {
    signal: {
      get aborted() {
        return isWanted();
      },
    },
    // Lets messages of the page in.
    onStage: () => new Promise((resolve) => setTimeout(resolve)),
  });
  try {
    await reading;
    performance.mark('rehearsed');
  } catch (error) {
    if (!(error instanceof ReadingError && error.code === 'cancelled')) throw error;
  }
}

function drawnFace(): Raster | null {
  const context = new OffscreenCanvas(SIDE_PX, SIDE_PX).getContext('2d');
  if (!context) return null;
  const disc = (xMm: number, yMm: number, radiusMm: number, colour: string) => {
    context.fillStyle = colour;
    context.beginPath();
    const [x, y] = [xMm, yMm].map((mm) => SIDE_PX / 2 + mm * PX_PER_MM) as [number, number];
    context.arc(x, y, radiusMm * PX_PER_MM, 0, 2 * Math.PI);
    context.fill();
  };
  context.fillStyle = AROUND;
  context.fillRect(0, 0, SIDE_PX, SIDE_PX);
  const inwards = [...FACES[FACE].zones].sort((a, b) => b.outerRadiusMm - a.outerRadiusMm);
  for (const { outerRadiusMm, ink } of inwards) disc(0, 0, outerRadiusMm, INKS[ink]);
  for (const [x, y] of HOLES_MM) disc(x, y, SHAFT_MM / 2, HOLE);
  const { data } = context.getImageData(0, 0, SIDE_PX, SIDE_PX);
  return { width: SIDE_PX, height: SIDE_PX, data };
}
