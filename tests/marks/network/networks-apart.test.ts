import { expect, test } from 'vitest';
import type { FlatFace } from '../../../src/fit/flat/flatten.ts';
import {
  answerCall,
  memoryOf,
  networksApart,
  type NetworkCall,
} from '../../../src/marks/network/networks-apart.ts';
import type { Networks } from '../../../src/marks/network/networks.ts';
import { cameraFit } from '../../fit/camera-fit.ts';

const FLAT: FlatFace = {
  raster: { width: 2, height: 1, data: new Uint8Array([1, 2, 3, 255, 4, 5, 6, 255]) },
  seen: new Uint8Array([1, 1]),
  spot: 0,
  mmPerPx: 1,
  halfWidthMm: 1,
  centreMm: [0, 0],
};
const CONTEXT = { fit: cameraFit(), shaftMm: 6 };

/** Networks that answer with what they were asked. */
const THERE = {
  marks: {
    evidence: (flat: FlatFace) => Promise.resolve({ hole: Float32Array.from(flat.raster.data) }),
  },
  entries: { evidence: () => Promise.reject(new Error('no room')) },
  rears: {
    read: ({ planes }: { planes: Float32Array }) =>
      Promise.resolve({ end: planes.subarray(0, 1), fletched: planes.subarray(1) }),
  },
} as unknown as Networks;

/** Both threads in one; messages are copied as between two. */
function apart() {
  const calls: NetworkCall[] = [];
  const made = networksApart(
    (call) => calls.push(structuredClone(call)),
    () => Promise.resolve(),
  );
  const answerNext = async () => {
    const answer = await answerCall(calls.shift()!, THERE);
    made.take(structuredClone(answer, { transfer: memoryOf(answer) }));
  };
  return { ...made, answerNext };
}

test('each call gets its own answer, in whatever order', async () => {
  const { networks, answerNext } = apart();
  const strip = { planes: new Float32Array([7, 8]), lengthPx: 4, mmAt: () => 0 };
  const asked = [networks.rears.read(strip), networks.marks.evidence(FLAT, CONTEXT)] as const;
  await answerNext();
  await answerNext();
  expect(await asked[0]).toEqual({
    end: new Float32Array([7]),
    fletched: new Float32Array([8]),
  });
  expect((await asked[1]).hole).toEqual(new Float32Array([1, 2, 3, 255, 4, 5, 6, 255]));
});

test('what goes wrong there is told here', async () => {
  const { networks, answerNext } = apart();
  const asked = networks.entries.evidence(FLAT, CONTEXT);
  await answerNext();
  await expect(asked).rejects.toThrow('no room');
});

test('where the thread is gone nobody waits for ever', async () => {
  const { networks, fail } = apart();
  const asked = networks.marks.evidence(FLAT, CONTEXT);
  fail(new Error('gone'));
  await expect(asked).rejects.toThrow('gone');
  await expect(networks.marks.evidence(FLAT, CONTEXT)).rejects.toThrow('gone');
});
