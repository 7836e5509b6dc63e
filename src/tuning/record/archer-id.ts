import type { Archer } from './session.ts';

/** So long is an id that others are made of, such as a session's: each has at most 80 letters. */
const MOST_LETTERS = 28;
const HASH_LETTERS = 7;

/** The id of whoever goes by a name: known from the log, or made of the name. */
export type ArcherIds = (name: string) => string;

/**
 * Ids by name, so that two devices that keep ends of one archer speak of the same one. Whoever the log
 * has under a name keeps the id that they have there; else it is made of the name, and no two names that
 * a person would tell apart get the same.
 */
export function archerIds(logged: readonly Pick<Archer, 'id' | 'name'>[] = []): ArcherIds {
  const known = new Map(logged.map(({ id, name }) => [asHeard(name), id]));
  return (name) => known.get(asHeard(name)) ?? idOfName(name);
}

/** Names that are one: capitals, spaces and ways to encode a letter make no other archer, or bow. */
export function asHeard(name: string): string {
  return name.normalize('NFC').toLowerCase().trim().replaceAll(/\s+/gu, ' ');
}

/** In letters that fit anywhere. What they cannot tell apart, a hash of the name does. */
function idOfName(name: string): string {
  const heard = asHeard(name);
  const plain = heard
    .normalize('NFKD')
    .replaceAll(/\p{M}+/gu, '')
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-|-$/g, '');
  if (plain.replaceAll('-', ' ') === heard && plain.length <= MOST_LETTERS) return plain;
  const start = plain.slice(0, MOST_LETTERS - HASH_LETTERS - 1).replace(/-$/, '');
  return `${start || 'archer'}-${hashOf(heard)}`;
}

/** FNV-1a, 32 bits: over plain HTTP browsers withhold better ones, and a club has few names. */
function hashOf(text: string): string {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) {
    hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  }
  return hash.toString(36).padStart(HASH_LETTERS, '0');
}
