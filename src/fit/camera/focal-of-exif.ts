/** Focal lengths on a 35 mm frame that are believed, mm: from fisheye lenses to long ones with a converter. */
export const FOCAL_35_MM = { min: 6, max: 2000 } as const;
/** Widths of sensors that are believed, mm: from a phone's smallest to medium format. */
const SENSOR_MM = { min: 2, max: 60 } as const;
/** Diagonal of the 35 mm frame that equivalent focal lengths refer to, mm. */
const FRAME_DIAGONAL_MM = Math.hypot(36, 24);
/** Sides of a picture that was made smaller keep their ratio; one that was cut has another. */
const SAME_RATIO = 0.02;

/** Tags of EXIF that tell a focal length, by their names in the standard (CIPA DC-008). */
export const FOCAL_TAGS = [
  'FocalLengthIn35mmFormat',
  'FocalLength',
  'FocalPlaneXResolution',
  'FocalPlaneResolutionUnit',
  'ExifImageWidth',
  'ExifImageHeight',
] as const;

/** Millimetres of EXIF's units of resolution: inch, centimetre, millimetre. */
const UNIT_MM: Readonly<Record<number, number>> = { 2: 25.4, 3: 10, 4: 1 };

/**
 * Focal length in pixels of a picture, from its EXIF data: by the 35 mm equivalent or, where that is
 * missing, by the lens's own and the sensor's resolution. None where the picture was cut since.
 *
 * @param sizePx Width and height of the picture.
 */
export function focalOfExif(
  tags: Readonly<Record<string, unknown>>,
  [width, height]: readonly [number, number],
): number | undefined {
  const number = (tag: (typeof FOCAL_TAGS)[number]): number => {
    const value = tags[tag];
    return typeof value === 'number' && value > 0 ? value : NaN;
  };
  const [takenLong, takenShort] = [number('ExifImageWidth'), number('ExifImageHeight')].sort(
    (a, b) => b - a,
  ) as [number, number];
  const [long, short] = [Math.max(width, height), Math.min(width, height)];
  const ratioOff = Math.abs(Math.log(long / short / (takenLong / takenShort)));
  // Of a cut picture nobody knows what part of the frame's diagonal is left.
  if (ratioOff >= SAME_RATIO) return undefined;
  const equivalent = number('FocalLengthIn35mmFormat');
  if (equivalent >= FOCAL_35_MM.min && equivalent <= FOCAL_35_MM.max) {
    return (equivalent * Math.hypot(width, height)) / FRAME_DIAGONAL_MM;
  }
  // Readers that name values give the unit as a word, the standard as a number.
  const said = tags['FocalPlaneResolutionUnit'];
  const unit = typeof said === 'string' ? { inches: 2, cm: 3, mm: 4 }[said.toLowerCase()] : said;
  const perMm = number('FocalPlaneXResolution') / (UNIT_MM[Number(unit ?? 2)] ?? NaN);
  const sensorMm = takenLong / perMm;
  const focal = number('FocalLength') * perMm * (long / takenLong);
  const focal35 = (focal * FRAME_DIAGONAL_MM) / Math.hypot(width, height);
  const isBelievable =
    sensorMm >= SENSOR_MM.min &&
    sensorMm <= SENSOR_MM.max &&
    focal35 >= FOCAL_35_MM.min &&
    focal35 <= FOCAL_35_MM.max;
  return isBelievable ? focal : undefined;
}
