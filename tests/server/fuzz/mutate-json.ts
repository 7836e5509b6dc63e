const STRANGE: readonly unknown[] = [
  null,
  true,
  '',
  ' ',
  '\u0000',
  '../../etc/passwd',
  '__proto__',
  '%E0%A4%A',
  "'; DROP TABLE ends; --",
  'x'.repeat(5000),
  '2031-13-45T99:99:99Z',
  -1,
  0,
  0.1,
  1e308,
  -1e308,
  2 ** 53,
  [],
  {},
  [[[[[[]]]]]],
  { __proto__: null, constructor: { prototype: { polluted: true } } },
];

/** One to four values within JSON replaced, taken out, doubled or named otherwise. */
export function mutateJson(value: unknown, random: () => number): unknown {
  let out = structuredClone(value);
  const damages = 1 + Math.floor(random() * 4);
  for (let i = 0; i < damages; i++) out = mutateOnce(out, random, 0);
  return out;
}

function mutateOnce(value: unknown, random: () => number, depth: number): unknown {
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)]!;
  const strangeName = () => JSON.stringify(pick(STRANGE)).slice(0, 200);
  const goesDeeper = typeof value === 'object' && value !== null && random() < 0.85 - depth * 0.1;
  if (!goesDeeper) return pick(STRANGE);
  if (Array.isArray(value)) {
    if (value.length === 0) return [pick(STRANGE)];
    const at = Math.floor(random() * value.length);
    const inner: unknown = value[at];
    if (random() < 0.2) return [...(value as unknown[]), inner];
    return value.map((one: unknown, i) => (i === at ? mutateOnce(one, random, depth + 1) : one));
  }
  const entries: [string, unknown][] = Object.entries(value);
  if (entries.length === 0) return { [strangeName()]: pick(STRANGE) };
  const at = Math.floor(random() * entries.length);
  const [name, inner] = entries[at]!;
  if (random() < 0.15) entries.splice(at, 1);
  else if (random() < 0.1) entries.splice(at, 1, [strangeName(), inner]);
  else entries[at] = [name, mutateOnce(inner, random, depth + 1)];
  return Object.fromEntries(entries);
}
