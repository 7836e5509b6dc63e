import { expect, it } from 'vitest';
import { runFuzz } from './run-fuzz.ts';

it(
  'mutated photos, manifests, archives and requests bring nothing down',
  { timeout: 240_000 },
  async () => {
    const { findings, photos, archives, requests } = await runFuzz(250, 7);
    expect(findings).toEqual([]);
    // The run is worth something only where inputs both pass and are refused.
    expect(photos['decoded']).toBeGreaterThan(5);
    expect(photos['damaged']).toBeGreaterThan(5);
    expect(Object.keys(archives).sort()).toEqual(['refused', 'taken']);
    expect(Object.keys(requests).length).toBeGreaterThan(2);
  },
);
