import { drawGroups, drawnEstimate } from '../../src/drawing/draw-groups.ts';
import { drawReading } from '../../src/drawing/draw-reading.ts';
import { FACES } from '../../src/face/faces.ts';
import { DEAD_ZONE_MRAD } from '../../src/tuning/advice/axis-verdict.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { correctedReading } from './corrected-reading.ts';

/** Long enough to zoom in, small enough to send. */
const MAX_EDGE_PX = 2400;

/** The photo with rings and marks, and both groups in a corner, as a JPEG without any EXIF. */
export async function pictureOf(end: OpenEnd): Promise<Blob> {
  const reading = correctedReading(end);
  const photo = await createImageBitmap(end.photo);
  const { width, height } = photo;
  const scale = Math.min(1, MAX_EDGE_PX / Math.max(width, height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  const context = canvas.getContext('2d')!;
  context.drawImage(photo, 0, 0, canvas.width, canvas.height);
  photo.close();

  const overlay = await imageOf(drawReading(reading, { width, height }));
  context.drawImage(overlay, 0, 0, canvas.width, canvas.height);

  const { distanceM } = end.settings.value;
  const { preferredMrad } = end.evaluation.value!;
  const plot = await imageOf(
    drawGroups({
      face: FACES[reading.face],
      arrows: reading.marks.filter((mark) => mark.age !== 'old'),
      groups: reading.groups,
      distanceM: distanceM ?? undefined,
      estimate: drawnEstimate(reading.tuning, reading.guessedTags),
      plateRadiusMm: reading.tuning?.plate?.radiusMm,
      ...(distanceM !== null && {
        wanted: {
          mm: [preferredMrad[0] * distanceM, preferredMrad[1] * distanceM] as const,
          radiusMm: DEAD_ZONE_MRAD * distanceM,
        },
      }),
    }),
  );
  const side = Math.round(Math.min(canvas.width, canvas.height) * 0.32);
  const margin = Math.round(side * 0.06);
  context.fillStyle = '#fff';
  context.fillRect(
    canvas.width - side - 2 * margin,
    canvas.height - side - 2 * margin,
    side + margin,
    side + margin,
  );
  context.drawImage(
    plot,
    canvas.width - side - 1.5 * margin,
    canvas.height - side - 1.5 * margin,
    side,
    side,
  );
  return new Promise((resolve, reject) =>
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new Error('The picture could not be made.'))),
      'image/jpeg',
      0.9,
    ),
  );
}

async function imageOf(svg: string): Promise<HTMLImageElement> {
  const image = new Image();
  // Browsers give an SVG without a size of its own none at all.
  const sized = svg.includes(' width="')
    ? svg.replace(/^<svg (?![^>]* width=")/, '<svg width="800" height="800" ')
    : svg;
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(sized)}`;
  await image.decode();
  return image;
}
