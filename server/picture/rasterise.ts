import sharp from 'sharp';

/** Pixels per unit of a drawing: sharp on a phone's screen, and 220 dots an inch on paper. */
const PIXELS_PER_UNIT = 3;
const SVG_DPI = 72;

/**
 * A drawing as PNG, its text in the first font of its list that this machine has.
 * @throws Error where the machine has no font at all: the text would be empty boxes
 */
export async function rasterise(svg: string): Promise<Uint8Array> {
  if (!(await hasFonts())) {
    throw new Error(
      'There is no font on this machine to write with: install one (DejaVu Sans will do), or ask for .svg.',
    );
  }
  return paint(svg, PIXELS_PER_UNIT);
}

function paint(svg: string, pixelsPerUnit: number): Promise<Buffer> {
  return sharp(Buffer.from(svg), { density: SVG_DPI * pixelsPerUnit })
    .png()
    .toBuffer();
}

/** Without a font every letter is the same box. */
async function hasFonts(): Promise<boolean> {
  const letter = (text: string) =>
    paint(
      `<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20"><text x="2" y="16" font-family="sans-serif" font-size="14">${text}</text></svg>`,
      1,
    );
  const [narrow, wide] = await Promise.all([letter('i'), letter('W')]);
  return !narrow.equals(wide);
}
