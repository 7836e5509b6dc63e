/** What a device stands for: one archer, a coach of some, or whoever keeps the club's log. */
export const ROLES = ['archer', 'coach', 'keeper'] as const;
export type Role = (typeof ROLES)[number];

/**
 * Whose something is, as whoever asks sees it. 'own': the archer's whose device it is, or what this
 * coach or device itself has brought; 'coached': an archer's whom they coach; 'other': any other
 * archer's; 'club': no archer's.
 */
export const OWNERS = ['own', 'coached', 'other', 'club'] as const;
export type Owner = (typeof OWNERS)[number];

type Right = Readonly<Record<Role, readonly Owner[]>>;

const ALL = OWNERS;
const THEIRS = { archer: ['own'], coach: ['own', 'coached'], keeper: ALL } satisfies Right;
const KEEPER_ONLY = { archer: [], coach: [], keeper: ALL } satisfies Right;

/**
 * Who may do what, and to whose things: the one table that every route and every job of the queue is
 * held against.
 */
const RIGHTS = {
  /** What a device is and may do. */
  'see-own-rights': { archer: ['own'], coach: ['own'], keeper: ALL },
  /** Archers, bows, set-ups, sessions, ends, photos, and tables of them. */
  'see-record': THEIRS,
  /** Keeps something new or corrects it. That a new archer is of the club only its keeper says. */
  'keep-record': THEIRS,
  /** An end, a set-up or a bow. */
  'delete-record': THEIRS,
  /** An archer with everything of theirs: a coach does not decide about that. */
  'delete-archer': { archer: ['own'], coach: [], keeper: ALL },
  /** An archive with photos: of one archer, or of the club. */
  export: { archer: ['own'], coach: [], keeper: ALL },
  import: KEEPER_ONLY,
  /** Hands in a photo, which may be judged with an archer's record. */
  'read-photo': THEIRS,
  'see-reading': THEIRS,
  'cancel-reading': THEIRS,
  /** Works out typed-in positions; nothing is kept. */
  'work-out': { archer: ['own'], coach: ['own'], keeper: ALL },
  'see-devices': THEIRS,
  'remove-device': { archer: ['own'], coach: ['own'], keeper: ALL },
  /** A code that pairs a device: of an archer, or of a coach or keeper ('club'). */
  pair: { archer: [], coach: ['coached'], keeper: ALL },
  /** Who coaches whom. */
  'see-coaches': KEEPER_ONLY,
  'change-coaches': KEEPER_ONLY,
  /** Who changed what. */
  'see-trail': KEEPER_ONLY,
} satisfies Record<string, Right>;

export type Action = keyof typeof RIGHTS;
export const ACTIONS = Object.keys(RIGHTS) as readonly Action[];

export function may(role: Role, action: Action, owner: Owner): boolean {
  const owners: readonly Owner[] = RIGHTS[action][role];
  return owners.includes(owner);
}

/** Whether there is anything at all to which it may be done. */
export function mayEver(role: Role, action: Action): boolean {
  return RIGHTS[action][role].length > 0;
}

/** Whoever asks. */
export interface Person {
  readonly role: Role;
  /** Whose device it is; null where it is no archer's. */
  readonly archerId: string | null;
  /** Whom they coach. */
  readonly coached: ReadonlySet<string>;
}

/** @param archerId whose it is; null where it is no archer's */
export function ownerFor(person: Person, archerId: string | null): Owner {
  if (archerId === null) return 'club';
  if (archerId === person.archerId) return 'own';
  return person.coached.has(archerId) ? 'coached' : 'other';
}
