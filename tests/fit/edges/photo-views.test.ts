import { expect, test } from 'vitest';
import { farView, viewsOf } from '../../../src/fit/edges/photo-views.ts';

test('far looks use the small copy while a zone spans enough of its pixels', () => {
  const photo = { width: 2400, height: 12, data: new Uint8ClampedArray(2400 * 12 * 4) };
  const views = viewsOf(photo);
  expect(views.small).toMatchObject({ factor: 3, raster: { width: 800, height: 4 } });
  expect(farView(views, 30)).toBe(views.small);
  expect(farView(views, 20)).toBe(views.whole);
  expect(views.whole).toEqual({ raster: photo, factor: 1 });
});
