import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { FACES, zoneWidthMm, type FaceId } from '../../../src/face/faces.ts';
import { INPUT_PLANES } from '../../../src/marks/network/network-planes.ts';
import { STRIP_PLANES, STRIP_WIDTH } from '../../../src/marks/network/rear-strip.ts';

/*
 * The networks' training draws faces by tables of its own, one row a layout: ink and line of every
 * zone, the middle first. They are held to the entries of faces that they stand for.
 */
const TRAINING = new URL('../../../src/marks/network/training/print_layer.py', import.meta.url);
const DRAWN: readonly FaceId[] = ['wa122', 'wa80-6', 'wa40-triple-vertical', 'field-80'];
const ZONES = 12;

const source = readFileSync(TRAINING, 'utf8');

function tableOf(name: string): string[][] {
  const found = new RegExp(`^${name} = torch\\.tensor\\(\\s*\\[(.*?)\\]\\s*\\)$`, 'ms').exec(
    source,
  );
  const rows = [...found![1]!.matchAll(/\[([^[\]]*)\]/g)].map(([, row]) => row!);
  return (rows.length > 0 ? rows : [found![1]!]).map((row) =>
    row.split(',').map((one) => one.trim()),
  );
}

const INK = { yellow: 'Y', red: 'R', blue: 'B', navy: '-', black: 'K', white: 'W' };
const LINE = { dark: '1', light: '2' };

/** Ink of the zone from `k - 1` to `k` widths of a zone, and the line on its outer edge. */
function printed(id: FaceId, k: number): { ink: string; line: string } {
  const face = FACES[id];
  const outer = k * zoneWidthMm(face);
  const zone = face.zones.find(({ outerRadiusMm }) => Math.abs(outerRadiusMm - outer) < 1e-6);
  return zone
    ? { ink: INK[zone.ink], line: zone.line ? LINE[zone.line] : '0' }
    : { ink: 'W', line: '0' };
}

test('training draws the faces that there are', () => {
  const [layouts, lines, last] = ['LAYOUTS', 'LINES', 'LAST_RING'].map(tableOf);
  expect(layouts).toHaveLength(DRAWN.length);
  DRAWN.forEach((id, row) => {
    for (let k = 1; k <= ZONES; k++) {
      const { ink, line } = printed(id, k);
      expect([id, k, layouts![row]![k - 1]]).toEqual([id, k, ink]);
      if (k < ZONES) expect([id, k, lines![row]![k]]).toEqual([id, k, line]);
    }
    const outermost = FACES[id].zones[0]!.outerRadiusMm / zoneWidthMm(FACES[id]);
    expect([id, Number(last![0]![row])]).toEqual([id, Math.round(outermost)]);
  });
});

const NETWORK = new URL('../../../src/marks/network/', import.meta.url);
const textOf = (path: string) => readFileSync(new URL(path, NETWORK), 'utf8');
const numberIn = (path: string, name: string) =>
  Number(new RegExp(`^${name} = (\\d+)$`, 'm').exec(textOf(path))![1]);
/** A tuple of names in a file of the training. */
const taught = (path: string) =>
  [.../^OUTPUTS = \((.*)\)$/m.exec(textOf(`training/${path}`))![1]!.matchAll(/"(\w+)"/g)].map(
    ([, name]) => name,
  );
/** Names and numbers of the planes that are read. */
const read = (path: string) =>
  [.../^const PLANES = \{(.*)\} as const;$/m.exec(textOf(path))![1]!.matchAll(/(\w+): (\d+)/g)].map(
    ([, name, at]) => [name, Number(at)] as const,
  );

test.each([
  ['model.py', 'mark-network.ts'],
  ['entry_lesson.py', 'entry-network.ts'],
])('planes of %s are read by their order in %s', (python, reader) => {
  const planes = taught(python);
  for (const [name, at] of read(reader)) expect([name, planes[at]]).toEqual([name, name]);
});

test('pictures and strips have as many planes, and strips the width, that the networks learn from', () => {
  expect(numberIn('training/model.py', 'INPUT_PLANES')).toBe(INPUT_PLANES);
  expect(numberIn('training/rear_model.py', 'INPUT_PLANES')).toBe(STRIP_PLANES);
  expect(numberIn('training/rear_model.py', 'STRIP_WIDTH')).toBe(STRIP_WIDTH);
});
