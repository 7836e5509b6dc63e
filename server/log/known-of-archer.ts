import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { z } from 'zod';
import type { KnownOfArcher } from '../../src/reading/read-with-log.ts';
import type { Archer } from '../../src/tuning/record/session.ts';
import type { Bow } from '../../src/tuning/bow/set-up.ts';
import { chosenByName } from './chosen-by-name.ts';
import type { Log } from './log.ts';

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
  const archers = await log.archers();
  const allBows = await log.bows();
  const archer = archerOf(archers, allBows, shooter);
  const bows = allBows.filter((bow) => bow.archerId === archer.id);
  const bow = bowOf(bows, shooter.bow);
  const setUps = bow ? (await log.setUps()).filter((setUp) => setUp.bowId === bow.id) : [];
  const sessions = (await log.sessions()).filter((session) => session.archerId === archer.id);
  const ids = new Set(sessions.map(({ id }) => id));
  const ends = (await log.ends()).filter(
    (end) =>
      ids.has(end.sessionId) && (end.sourceSha256 === null || end.sourceSha256 !== judgedSha256),
  );
  const setUpId =
    shooter.setUp === undefined ? null : chosenByName(setUps, 'set-up', shooter.setUp).id;
  return { archer, bow, setUps, sessions, ends, setUpId };
}

/** The hash of a photo as the log keeps it; null when it cannot be read. */
export async function photoSha256(path: string): Promise<string | null> {
  const hash = createHash('sha256');
  try {
    for await (const chunk of createReadStream(path)) hash.update(chunk as Buffer);
  } catch {
    return null;
  }
  return hash.digest('hex');
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

function bowOf(bows: readonly Bow[], named: string | undefined): Bow | null {
  if (named !== undefined) return chosenByName(bows, 'bow', named);
  return bows.length === 1 ? bows[0]! : null;
}
