import { words } from '../state/words.ts';
import { drawEndPicture } from '../../src/drawing/end-picture.ts';
import { wantedOffset } from '../../src/tuning/advice/axis-verdict.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { correctedReading } from './corrected-reading.ts';

/** The end as a picture to show to others, a JPEG without any EXIF. @param verdict as it is shown */
export async function pictureOf(end: OpenEnd, verdict: string): Promise<Blob> {
  const reading = correctedReading(end);
  const photo = await createImageBitmap(end.photo);
  const { archer, place, distanceM } = end.settings.value;
  const { preferredMrad } = end.evaluation.value!;
  const day = words.value.dayAndTime(end.createdAt);
  const picture = drawEndPicture(
    {
      reading,
      photo,
      archer: archer.trim(),
      when: place.trim() === '' ? day : `${day}, ${place.trim()}`,
      distanceM,
      verdict,
      ...(distanceM !== null && { wanted: wantedOffset(preferredMrad, distanceM) }),
    },
    { words: words.value },
  );
  const canvas = document.createElement('canvas');
  canvas.width = picture.width;
  canvas.height = picture.height;
  const context = canvas.getContext('2d')!;
  context.fillStyle = '#fff';
  context.fillRect(0, 0, canvas.width, canvas.height);
  const { left, top, size } = picture.crop;
  context.drawImage(photo, left, top, size, size, 0, 0, picture.width, picture.width);
  photo.close();
  context.drawImage(await imageOf(picture.svg), 0, 0);
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
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  return image;
}
