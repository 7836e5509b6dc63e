/** What the place and name of a photo among others tell. */
export interface PhotoPlace {
  readonly archer?: string;
  /** The bow or set-up. */
  readonly bow?: string;
  /** Name without the word that says before or after: both photos of a pair share it. */
  readonly stem: string;
  readonly moment: 'before' | 'after' | null;
}

/** Words that cameras and programs put before a number; they are nobody's name. */
const CAMERA_WORDS =
  /^(img|image|dsc|dscn|dscf|dcim|pxl|mvimg|gopr|pict|picture|photo|foto|bild|scan|screenshot|end|passe|volée|volee|p|before|after|vorher|nachher|avant|après|apres|hdr|burst|copy|edited)$/i;

/** Words of a folder's name that hold no name of a person or set-up. */
const PLAIN_FOLDER = /^(dcim|camera|photos?|pictures?|images?|\d+\w{0,8}|\d{4}-\d{2}-\d{2})$/i;

/**
 * Archer and bow from the folders that a photo lies in, else from its name: `ilka/soft plunger/3.jpg`
 * or `ilka_soft plunger_3.jpg`. Names that cameras give say nothing.
 * @param path with forward slashes, below what the person chose
 */
export function placeOfPath(path: string): PhotoPlace {
  const parts = path.split('/').filter((part) => part !== '' && part !== '.');
  const file = parts.pop() ?? '';
  // As some systems write 'è': a letter and an accent of its own.
  const bare = file.normalize('NFC').replace(/\.[^.]+$/, '');
  const folders = parts.map(tidy).filter((name) => name !== '' && !PLAIN_FOLDER.test(name));
  const words = bare.split(/_+|\s+-\s+/).map(tidy);
  const names = folders.length > 0 ? folders : words.filter(isName);
  const moment = /(^|[\s_-])(before|vorher|avant)([\s_-]|$)/i.test(bare)
    ? 'before'
    : /(^|[\s_-])(after|nachher|après|apres)([\s_-]|$)/i.test(bare)
      ? 'after'
      : null;
  const stem = bare.replace(
    /(^|[\s_-]+)(before|after|vorher|nachher|avant|après|apres)(?=[\s_-]|$)/i,
    '',
  );
  return {
    ...(names[0] === undefined ? {} : { archer: names[0] }),
    ...(names[1] === undefined ? {} : { bow: names[1] }),
    stem: [...parts, stem].join('/'),
    moment,
  };
}

function tidy(name: string): string {
  return name.replace(/[_\s]+/g, ' ').trim();
}

/** Letters, more than one, that are no camera's word with or without a number behind it. */
function isName(word: string): boolean {
  const plain = word.replace(/[\d\s.()-]+$/, '').replace(/^[\d\s.()-]+/, '');
  return /\p{L}{2}/u.test(plain) && !CAMERA_WORDS.test(plain);
}
