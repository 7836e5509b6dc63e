import { describe, expect, it } from 'vitest';
import { powerBench } from '../bench/power-bench.ts';
import { tuningBench } from '../bench/tuning-bench.ts';

// The bench plays 2,000 histories; these few are seeded, with margins for their number.
describe('virtual tuning histories', () => {
  const result = tuningBench({ histories: 160, seed: 4711 });

  it('holds the true offset in nine 90 % regions of ten', () => {
    for (const share of Object.values(result.coverage)) {
      expect(share).toBeGreaterThan(0.87);
      expect(share).toBeLessThan(0.93);
    }
  });

  it('is rarely wrong when it says sure', () => {
    const { log, firstEnd } = result.sure;
    // Calls of one history go together: a bow that answers oddly gives several wrong ones.
    expect(log.wrongSide / log.directions).toBeLessThan(0.08);
    expect(firstEnd.wrongSide / firstEnd.directions).toBeLessThan(0.06);
    expect(log.directions).toBeGreaterThan(60);
  });

  it('finds an offset with a record that it would miss without', () => {
    const power = powerBench({ ends: 1500, seed: 4711 });
    expect(Math.abs(power.known - 0.8)).toBeLessThan(0.04);
    expect(Math.abs(power.pooled - 0.56)).toBeLessThan(0.05);
    expect(Math.abs(power.hotelling - 0.25)).toBeLessThan(0.05);
    expect(power.record).toBeGreaterThan(0.68);
    expect(power.recordEqualSpread).toBeGreaterThan(0.72);
  });

  it('gets there sooner than a fixed rule of thumb, and rarely wanders away', () => {
    expect(result.endsNeeded.ratio).toBeLessThan(0.7);
    expect(result.wandering.endwise.worse).toBeLessThan(0.06);
    expect(result.leftMrad.endwise).toBeLessThan(result.leftMrad.ruleOfThumb);
  });
});
