import { expect, test } from 'vitest';
import { loadNetworks } from '../../../server/reading/load-networks.ts';
import { networksInThread } from '../../../server/reading/networks-in-thread.ts';
import { flatten } from '../../../src/fit/flat/flatten.ts';
import { cameraFit } from '../../fit/camera-fit.ts';
import { paintedFace } from '../../fit/painted-face.ts';

test('a thread of its own sees exactly what this one does', async () => {
  const fit = cameraFit({ photoSize: [600, 450] });
  const flat = flatten(paintedFace(fit), fit, { spot: 0, mmPerPx: 0.8, halfWidthMm: 60 });
  const context = { fit, shaftMm: 6 };
  const [here, there] = await Promise.all([loadNetworks(1), networksInThread(1)]);
  const [own, apart] = await Promise.all([
    here!.marks.evidence(flat, context),
    there!.marks.evidence(flat, context),
  ]);
  expect(apart).toEqual(own);
  await there!.marks.release();
  await expect(there!.marks.evidence(flat, context)).rejects.toThrow();
});
