/** A format of pictures that is read. A new one is an entry here, and where it needs one, a decoder. */
export interface PictureFormat {
  /** Endings of names, lower case. */
  readonly endings: readonly string[];
  /** What decodes it on the server. */
  readonly decoder: 'sharp' | 'libheif';
  /** Whether every browser shows it; otherwise the page converts it where the browser does not. */
  readonly shownByBrowsers: boolean;
  /** Whether it is made of boxes (ISO/IEC 14496-12), in which EXIF is searched only where they are sound. */
  readonly hasBoxes: boolean;
  /** Whether a file is of this format, by its first bytes. */
  readonly begins: (head: FileHead) => boolean;
}

/** The first bytes of a file. */
export interface FileHead {
  readonly bytes: Uint8Array;
  /** As letters, one a byte. */
  readonly ascii: (from: number, to: number) => string;
}

export function fileHead(bytes: Uint8Array): FileHead {
  return { bytes, ascii: (from, to) => String.fromCharCode(...bytes.subarray(from, to)) };
}

/** Brands of HEIC stills in the file's head (ISO/IEC 23008-12). */
const HEIC_BRANDS: ReadonlySet<string> = new Set(['heic', 'heix', 'heim', 'heis', 'mif1']);

const usual = { decoder: 'sharp', shownByBrowsers: true, hasBoxes: false } as const;

export const PICTURE_FORMATS = {
  jpeg: {
    ...usual,
    endings: ['jpg', 'jpeg'],
    begins: ({ bytes }) => bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff,
  },
  png: {
    ...usual,
    endings: ['png'],
    begins: ({ ascii }) => ascii(0, 8) === '\x89PNG\r\n\x1a\n',
  },
  webp: {
    ...usual,
    endings: ['webp'],
    begins: ({ ascii }) => ascii(0, 4) === 'RIFF' && ascii(8, 12) === 'WEBP',
  },
  heic: {
    endings: ['heic', 'heif'],
    decoder: 'libheif',
    shownByBrowsers: false,
    hasBoxes: true,
    begins: ({ ascii }) => ascii(4, 8) === 'ftyp' && HEIC_BRANDS.has(ascii(8, 12)),
  },
} as const satisfies Record<string, PictureFormat>;

export type PhotoKind = keyof typeof PICTURE_FORMATS;

/** Formats that are read, by their kind. */
export function pictureFormat(kind: PhotoKind): PictureFormat {
  return PICTURE_FORMATS[kind];
}

export const PHOTO_KINDS = Object.keys(PICTURE_FORMATS) as PhotoKind[];
