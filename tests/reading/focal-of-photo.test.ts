import sharp from 'sharp';
import { expect, it } from 'vitest';
import { focalOf } from '../../web/reader/decode-in-browser.ts';

it('the page finds the focal length in a photo, as the server does', async () => {
  const picture = sharp({ create: { width: 30, height: 40, channels: 3, background: 'red' } });
  const bytes = await picture
    .jpeg()
    .withExif({ IFD2: { FocalLengthIn35mmFilm: '26' } })
    .toBuffer();
  // 26 mm on the 43.27 mm diagonal of the 35 mm frame, over the photo's diagonal of 50 px.
  expect(await focalOf(new Blob([new Uint8Array(bytes)]), [40, 30])).toBeCloseTo(
    (26 / 43.27) * 50,
    2,
  );
  expect(await focalOf(new Blob(['no photo']), [40, 30])).toBeUndefined();
});
