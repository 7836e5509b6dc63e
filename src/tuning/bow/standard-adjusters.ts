import type { Adjuster } from './set-up.ts';

/**
 * The adjusters that most bows of the target line have, as a start for a new bow; every field can
 * be changed and others added (common practice, no published source, for units and steps).
 */
export function standardAdjusters(): Adjuster[] {
  const number = (unit: string, step: number, min?: number, max?: number): Adjuster['scale'] => ({
    type: 'number',
    unit,
    step,
    ...(min === undefined ? {} : { min }),
    ...(max === undefined ? {} : { max }),
  });
  return [
    {
      id: 'plunger',
      part: 'plunger',
      name: 'Plunger',
      scale: { type: 'dial', positionsPerLine: 10, lines: 10 },
      higherIs: 'stiffer',
    },
    {
      id: 'plunger-spring',
      part: 'plunger-spring',
      name: 'Plunger spring',
      scale: { type: 'choice', choices: ['soft', 'medium', 'stiff'] },
    },
    {
      id: 'nocking-point',
      part: 'nocking-point',
      name: 'Nocking point above square',
      scale: number('mm', 0.5, -20, 40),
    },
    {
      id: 'tiller',
      part: 'tiller',
      name: 'Tiller, upper minus lower',
      scale: number('mm', 1, -30, 30),
    },
    {
      id: 'limb-bolts',
      part: 'limb-bolts',
      name: 'Limb bolts, turns in from the outermost allowed',
      scale: number('turns', 0.25, 0, 20),
    },
    {
      id: 'draw-weight',
      part: 'draw-weight',
      name: 'Draw weight at full draw',
      scale: number('lb', 0.5, 1, 100),
    },
    {
      id: 'brace-height',
      part: 'brace-height',
      name: 'Brace height',
      scale: number('mm', 1, 1, 350),
    },
    {
      id: 'centre-shot',
      part: 'centre-shot',
      name: 'Centre shot, point outside the line',
      scale: number('mm', 0.5, -15, 15),
    },
    { id: 'spine', part: 'spine', name: 'Static spine', scale: number('', 10, 100, 2500) },
    {
      id: 'arrow-length',
      part: 'arrow-length',
      name: 'Arrow length',
      scale: number('mm', 5, 300, 1000),
    },
    { id: 'point-mass', part: 'point-mass', name: 'Point', scale: number('grain', 5, 10, 500) },
    {
      id: 'shaft-diameter',
      part: 'shaft-diameter',
      name: 'Shaft diameter',
      scale: number('mm', 0.1, 3, 12),
    },
  ];
}
