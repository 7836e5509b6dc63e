import { ENGLISH, type Words } from '../words/words.ts';
import { FACES } from '../face/faces.ts';
import { tieBreakWords } from '../marks/tie-break.ts';
import type { Reading } from '../reading/reading.ts';
import { drawGroups, drawnEstimate, type DrawingOptions, type GroupsPlot } from './draw-groups.ts';
import { faceInPhoto, readingLayers } from './draw-reading.ts';
import { FONT_FAMILY, PAPER } from './palette.ts';
import { svg, svgText } from './svg.ts';
import { shortened, wrapWords } from './text-width.ts';

/** A messenger shows a picture about as wide as a phone, a third of this: letters are three times as large. */
const WIDTH = 1080;
const PLOT = 500;
const MARGIN = 30;
/** How much of the photo beside the face is shown. */
const AROUND = 1.06;

export interface EndPicture {
  readonly reading: Pick<
    Reading,
    'face' | 'fit' | 'marks' | 'groups' | 'score' | 'tuning' | 'guessedTags'
  >;
  readonly photo: { readonly width: number; readonly height: number };
  /** Who shot it, '' where nobody said. */
  readonly archer: string;
  /** When and where, as a person reads it. */
  readonly when: string;
  readonly distanceM: number | null;
  /** In a few words, as it is shown beside the photo. */
  readonly verdict: string;
  readonly wanted?: GroupsPlot['wanted'];
}

export interface DrawnPicture {
  readonly width: number;
  readonly height: number;
  /** The part of the photo that is shown at the top, as wide as the picture and square, photo px. */
  readonly crop: { readonly left: number; readonly top: number; readonly size: number };
  /** All that lies over the photo and below it. */
  readonly svg: string;
}

/** An end to show to others: the face with rings and marks, both groups, the verdict, who and when. */
export function drawEndPicture(picture: EndPicture, options: DrawingOptions = {}): DrawnPicture {
  const palette = options.palette ?? PAPER;
  const { words = ENGLISH } = options;
  const { reading, archer, when, distanceM, verdict, wanted } = picture;
  const crop = cropOf(picture);
  const face = FACES[reading.face];
  const height = WIDTH + PLOT + 2 * MARGIN;
  const left = PLOT + 2 * MARGIN;
  const room = WIDTH - left - MARGIN;
  const lines = [
    { text: shortened(archer || words.say('No name'), room, 46), size: 46, bold: true },
    ...wrapWords(
      `${distanceM === null ? '' : `${words.metres(distanceM)}, `}${words.say(face.name)}`,
      room,
      34,
    ).map(small),
    ...wrapWords(when, room, 34).map(small),
    { text: scoreWords(reading.score, words), size: 52, bold: true },
    ...wrapWords(verdict, room, 40).map((text) => ({ text, size: 40, bold: false })),
  ];
  let y = WIDTH + MARGIN;
  const plot = drawGroups(
    {
      face,
      arrows: reading.marks.filter((mark) => mark.age !== 'old'),
      groups: reading.groups,
      distanceM: distanceM ?? undefined,
      estimate: drawnEstimate(reading.tuning, reading.guessedTags),
      plateRadiusMm: reading.tuning?.plate?.radiusMm,
      wanted,
      letters: 1.9,
    },
    options,
  );
  const body = [
    svg(
      'svg',
      {
        width: WIDTH,
        height: WIDTH,
        viewBox: `${crop.left} ${crop.top} ${crop.size} ${crop.size}`,
      },
      ...readingLayers(reading, palette),
    ),
    svg('rect', { y: WIDTH, width: WIDTH, height: height - WIDTH, fill: palette.background }),
    svg(
      'g',
      { transform: `translate(${MARGIN} ${WIDTH + MARGIN})` },
      plot.replace('<svg ', `<svg width="${PLOT}" height="${PLOT}" `),
    ),
    ...lines.map(({ text, size, bold }) => {
      y += size * 1.22;
      return svgText(
        {
          x: left,
          y: y - size * 0.2,
          'font-size': size,
          'font-weight': bold ? 700 : 400,
          fill: palette.ink,
        },
        text,
      );
    }),
  ];
  const attributes = {
    xmlns: 'http://www.w3.org/2000/svg',
    viewBox: `0 0 ${WIDTH} ${height}`,
    width: WIDTH,
    height,
    'font-family': options.fontFamily ?? FONT_FAMILY,
  };
  return { width: WIDTH, height, crop, svg: svg('svg', attributes, ...body) };
}

const small = (text: string) => ({ text, size: 34, bold: false });

function scoreWords({ total, arrows, tieBreak }: Reading['score'], words: Words): string {
  const parted = tieBreakWords(tieBreak, words);
  const score = words.count(arrows, '{total} with {n} arrow', '{total} with {n} arrows', { total });
  return parted === null ? score : `${score}, ${parted}`;
}

/** A square around the face; what of it lies beyond the photo stays empty. */
function cropOf({ reading }: EndPicture): DrawnPicture['crop'] {
  const { middle, extentPx } = faceInPhoto(reading);
  const size = extentPx * AROUND;
  return { left: middle[0] - size / 2, top: middle[1] - size / 2, size };
}
