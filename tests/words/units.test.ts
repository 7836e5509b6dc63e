import { describe, expect, it } from 'vitest';
import { FACES } from '../../src/face/faces.ts';
import { drawGroups } from '../../src/drawing/draw-groups.ts';
import { drawSpreadAgainstDistance } from '../../src/drawing/draw-spread-against-distance.ts';
import { changeWords, settingWords } from '../../src/tuning/bow/setting-words.ts';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import { factorOf, LENGTHS, MASSES } from '../../src/tuning/bow/units.ts';
import { METRIC, writtenAs, type Units } from '../../src/words/units.ts';
import { ENGLISH, wordsOf } from '../../src/words/words.ts';

const IMPERIAL: Units = { length: 'in', distance: 'yd', mass: 'g' };
const imperial = wordsOf({ language: 'en', catalogue: null, units: IMPERIAL });
const adjuster = (part: string) => standardAdjusters().find((one) => one.part === part)!;

describe('units', () => {
  it('are those of the yard and pound agreement', () => {
    // International yard and pound agreement, 1959: yard 0.9144 m, pound 0.45359237 kg, of 7000 grains.
    expect(25.4 * writtenAs('mm', IMPERIAL).per).toBeCloseTo(1, 12);
    expect(0.9144 * writtenAs('m', IMPERIAL).per).toBeCloseTo(1, 12);
    expect(7000 * writtenAs('grain', IMPERIAL).per).toBeCloseTo(453.59237, 9);
    expect(writtenAs('lb', IMPERIAL)).toEqual({ unit: 'lb', per: 1 });
    expect(writtenAs('mm', METRIC)).toEqual({ unit: 'mm', per: 1 });
  });

  it('agree with those that a person may write', () => {
    expect(1 / writtenAs('mm', IMPERIAL).per).toBeCloseTo(factorOf('in', LENGTHS)!, 9);
    expect(1 / writtenAs('grain', IMPERIAL).per).toBeCloseTo(factorOf('g', MASSES)!, 2);
  });

  it('are written as exactly as in millimetres and metres', () => {
    expect(imperial.mm(254)).toBe('10.0 in');
    expect(imperial.mm(0.4, 1)).toBe('0.02 in');
    expect(imperial.metres(18.288)).toBe('20 yd');
    expect(imperial.metres(70)).toBe('76.6 yd');
    expect(ENGLISH.mm(254)).toBe('254 mm');
    expect(ENGLISH.metres(18.288)).toBe('18.288 m');
  });

  it('are those of slopes, whichever two are chosen', () => {
    // 1 mrad is 36 thousandths of an inch in a yard, by the definition of both.
    expect([imperial.inSlope(1), imperial.slopeUnit]).toEqual(['0.036', 'in per yard']);
    expect([ENGLISH.inSlope(1.26), ENGLISH.slopeUnit]).toEqual(['1.3', 'mm per metre']);
    const mixed = wordsOf({
      language: 'en',
      catalogue: null,
      units: { ...METRIC, distance: 'yd' },
    });
    expect([mixed.inSlope(10), mixed.slopeUnit]).toEqual(['9.1', 'mm per yard']);
  });

  it('are those of readings and their changes', () => {
    const brace = adjuster('brace-height');
    const point = adjuster('point-mass');
    expect(settingWords(brace, { type: 'number', value: 222.25 }, imperial)).toBe('8.75 in');
    expect(changeWords(brace, 6.35, imperial)).toBe('0.25 in higher');
    expect(settingWords(point, { type: 'number', value: 120 }, imperial)).toBe('7.78 g');
    expect(settingWords(point, { type: 'number', value: 120 })).toBe('120 grain');
  });

  it('are those of the scale on a plot, with a round length', () => {
    const plot = { face: FACES.wa80, arrows: [], groups: null };
    expect(drawGroups(plot)).toContain('>200 mm<');
    expect(drawGroups(plot, { words: imperial })).toContain('>10 in<');
    const series = [
      {
        name: 'A',
        trend: {
          points: [
            { sessionId: 's', distanceM: 18.288, sigmaMm: 50.8, interval90Mm: [25.4, 101.6] as [number, number], arrows: 9 }, // prettier-ignore
          ],
          slope: null,
          line: null,
          verdict: 'too little' as const,
          meaning: '',
        },
      },
    ];
    const drawn = drawSpreadAgainstDistance(series, { words: imperial });
    for (const text of ['>20 yd<', '>2<', 'arrows, in<']) expect(drawn).toContain(text);
    expect(drawn).not.toContain('mm');
  });
});
