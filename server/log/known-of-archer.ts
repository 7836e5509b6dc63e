import { z } from 'zod';
import { knownOfShot, type KnownOfArcher } from '../../src/reading/known-of-archer.ts';
import type { Archer, End } from '../../src/tuning/record/session.ts';
import type { Bow } from '../../src/tuning/bow/set-up.ts';
import { sourceSha256 } from '../decode/photo-source.ts';
import { chosenByName } from './chosen-by-name.ts';
import type { Log, LoggedEnd } from './log.ts';

const named = z.string().max(200).optional();

/** Who shot, and with what: ids, or names that only one has. */
export const shooterSchema = z.object({
  archer: named,
  /** @default the archer's only bow */
  bow: named,
  /** @default the one that the bow was shot with last, or that was written down since */
  setUp: named,
});
export type Shooter = z.infer<typeof shooterSchema>;

/** What of a log is asked for: the log itself, or the part that a visitor may see. */
export type LogView = Pick<Log, 'archers' | 'bows' | 'setUps' | 'sessions' | 'ends'>;

/**
 * What the log knows of who shot an end. Where only a bow is said, its archer is meant.
 * @param judgedSha256 of the photo as it is: the same end may be kept already, and then does not
 * count twice
 * @throws LogError when there is no such archer, bow or set-up, or a name fits several
 */
export async function knownOfArcher(
  log: LogView,
  shooter: Shooter,
  judgedSha256: string | null,
): Promise<KnownOfArcher> {
  const [archers, bows] = await Promise.all([log.archers(), log.bows()]);
  const archer = archerOf(archers, bows, shooter);
  const [setUps, sessions, ends] = await Promise.all([
    log.setUps(),
    log.sessions(archer.id),
    log.ends(archer.id),
  ]);
  const own = bows.filter((bow) => bow.archerId === archer.id);
  const bow = shooter.bow === undefined ? null : chosenByName(own, 'bow', shooter.bow);
  const shot = {
    archerId: archer.id,
    bowId: bow?.id ?? null,
    setUpId: null,
    isThisEnd: (end: End) => isOf(end, judgedSha256),
  };
  const known = knownOfShot({ archers, bows, setUps, sessions, ends }, shot)!;
  if (shooter.setUp === undefined) return known;
  return { ...known, setUpId: chosenByName(known.setUps, 'set-up', shooter.setUp).id };
}

function isOf(end: End | LoggedEnd, sha256: string | null): boolean {
  return sha256 !== null && 'sourceSha256' in end && end.sourceSha256 === sha256;
}

/** The hash of a photo as the log keeps it; null when it cannot be read. */
export function photoSha256(path: string): Promise<string | null> {
  return sourceSha256({ path }).catch(() => null);
}

function archerOf(
  archers: readonly Archer[],
  bows: readonly Bow[],
  { archer, bow }: Shooter,
): Archer {
  if (archer !== undefined) return chosenByName(archers, 'archer', archer);
  const { archerId } = chosenByName(bows, 'bow', bow ?? '');
  return archers.find(({ id }) => id === archerId)!;
}
