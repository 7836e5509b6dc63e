/** What the place and name of a photo among others tell. */
export interface PhotoPlace {
  readonly archer?: string;
  /** The bow or set-up. */
  readonly bow?: string;
  /** Name without the words that say which photo of an end it is: all photos of one end share it. */
  readonly stem: string;
  /** Before the end, after it, or after it from another side. */
  readonly view: 'before' | 'after' | 'also' | null;
}

/** Words that cameras and programs put before a number; they are nobody's name. */
const CAMERA_WORDS =
  /^(img|image|dsc|dscn|dscf|dcim|pxl|mvimg|gopr|pict|picture|photo|foto|bild|scan|screenshot|end|passe|volée|volee|p|hdr|burst|copy|edited)$/i;

/** Words of a folder's name that hold no name of a person or set-up. */
const PLAIN_FOLDER = /^(dcim|camera|photos?|pictures?|images?|\d+\w{0,8}|\d{4}-\d{2}-\d{2})$/i;

/** Words that say which photo of an end it is, in every language of the page. */
const VIEW_WORDS: readonly (readonly [NonNullable<PhotoPlace['view']>, RegExp])[] = [
  ['before', word('before|vorher|avant')],
  ['after', word('after|nachher|après|apres')],
  ['also', word('also|other[\\s_-]side|auch|andere[\\s_-]seite|aussi|autre[\\s_-]c[oô]t[eé]')],
];

function word(words: string): RegExp {
  return new RegExp(`(^|[\\s_-]+)(${words})(?=[\\s_-]|$)`, 'i');
}

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
  const [view, said] = VIEW_WORDS.find(([, words]) => words.test(bare)) ?? [null, /$/];
  const stem = bare.replace(said, '').replace(/^[\s_-]+/, '');
  const folders = parts.map(tidy).filter((name) => name !== '' && !PLAIN_FOLDER.test(name));
  const words = stem.split(/_+|\s+-\s+/).map(tidy);
  const names = folders.length > 0 ? folders : words.filter(isName);
  return {
    ...(names[0] === undefined ? {} : { archer: names[0] }),
    ...(names[1] === undefined ? {} : { bow: names[1] }),
    stem: [...parts, stem].join('/'),
    view,
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
