import { describe, expect, test } from 'vitest';
import { checked, checkedLater, InputError } from '../../src/request/input-error.ts';

const echo = checked('echo', (...args: unknown[]) => args.length);

describe('numbers that cannot be', () => {
  test.each([
    ['not a number', { marks: [{ mm: [0, Number.NaN] }] }, '1.marks.0.mm.1', Number.NaN],
    ['endless', { limits: { upper: Infinity } }, '1.limits.upper', Infinity],
    ['larger than anything measured', [[1, -1_000_000_001]], '1.0.1', -1_000_000_001],
  ])('%s: named with the way to it', (_, about, path, value) => {
    const given = () => echo(0, about);
    expect(given).toThrow(InputError);
    expect(given).toThrow(expect.objectContaining({ path, value, name: 'InputError' }));
    expect(given).toThrow(/^echo was given .* at 1\..*: .*Leave out what is not known\.$/);
  });

  test('the largest that may be passes, and a missing value is none', () => {
    expect(echo(1e9, -1e9, { distanceM: null, note: 'NaN', bows: undefined })).toBe(3);
  });

  test('a law of endlessly many degrees of freedom is a normal one', () => {
    expect(echo({ law: { mean: 0, scale: 1, df: Infinity } })).toBe(1);
    expect(() => echo({ law: { mean: 0, scale: 1, df: Number.NaN } })).toThrow(InputError);
    expect(() => echo({ law: { mean: 0, scale: 1, df: -Infinity } })).toThrow(InputError);
  });

  test('pixels, and what is no plain data, are not looked into', () => {
    const engine = new (class {
      readonly threads = Infinity;
    })();
    expect(echo({ data: new Float32Array([Number.NaN]) }, engine, () => Number.NaN)).toBe(3);
  });

  test('nothing has run by then', () => {
    let runs = 0;
    const count = checked('count', (by: number) => (runs += by));
    expect(() => count(Number.NaN)).toThrow(InputError);
    expect(count(2)).toBe(2);
  });

  test('of a function that promises, the promise rejects', async () => {
    const later = checkedLater('later', (by: number) => Promise.resolve(by));
    await expect(later(Infinity)).rejects.toMatchObject({ path: '0', value: Infinity });
    await expect(later(3)).resolves.toBe(3);
  });
});
