import type { KnownOfArcher } from '../../src/reading/known-of-archer.ts';
import type { UsedLog } from '../../src/reading/reading.ts';
import { chosenByName } from '../log/chosen-by-name.ts';
import { knownOfArcher, photoSha256, type LogView } from '../log/known-of-archer.ts';
import { LogError } from '../log/log-error.ts';
import { judgeWithLog } from '../reading/judge-with-log.ts';
import type { Outcome } from '../reading/read-job.ts';
import { shotAt } from '../reading/shot-at.ts';
import type { ManifestRow } from './manifest.ts';

/**
 * Judges what a batch read with the log, where a row's columns `archer` and `bow`, and `set_up` if
 * there is one, name somebody and something in it; every other row stays as it was read. The column
 * `date` says when the end was shot, else the photo does.
 * @param log read once: what is kept meanwhile does not count
 */
export async function judgeRows(
  log: LogView,
): Promise<(outcome: Outcome, row: ManifestRow) => Promise<Outcome & { log?: UsedLog }>> {
  const [archers, bows, setUps, sessions, ends] = await Promise.all([
    log.archers(),
    log.bows(),
    log.setUps(),
    log.sessions(),
    log.ends(),
  ]);
  const view: LogView = {
    archers: () => Promise.resolve(archers),
    bows: () => Promise.resolve(bows),
    setUps: () => Promise.resolve(setUps),
    sessions: () => Promise.resolve(sessions),
    ends: () => Promise.resolve(ends),
  };
  return async (outcome, row) => {
    if (!outcome.ok || row.request === null) return outcome;
    const known = await knownOfRow(view, row);
    if (known === null) return outcome;
    return judgeWithLog(outcome, row.request, known, shotAt(row.others['date'], outcome.takenAt));
  };
}

/** Whose a row's end is, by the log's id; null where that is nobody in it. */
export async function archersOfRows(
  log: Pick<LogView, 'archers' | 'bows'>,
): Promise<(row: ManifestRow) => string | null> {
  const [archers, bows] = await Promise.all([log.archers(), log.bows()]);
  return ({ others }) => {
    const [archer, bow] = [others['archer']?.trim(), others['bow']?.trim()];
    try {
      if (archer) return chosenByName(archers, 'archer', archer).id;
      return bow ? chosenByName(bows, 'bow', bow).archerId : null;
    } catch (error) {
      if (error instanceof LogError) return null;
      throw error;
    }
  };
}

async function knownOfRow(view: LogView, row: ManifestRow): Promise<KnownOfArcher | null> {
  const said = (column: string) => row.others[column]?.trim() || undefined;
  const shooter = { archer: said('archer'), bow: said('bow'), setUp: said('set_up') };
  if (shooter.archer === undefined && shooter.bow === undefined) return null;
  const sha256 = await photoSha256(row.photoPath);
  const known = await unlessUnknown(knownOfArcher(view, shooter, sha256));
  if (known !== null || shooter.archer === undefined) return known;
  // A bow or set-up that nobody wrote down: the archer's record still holds, and no bow is guessed.
  const ofArcher = await unlessUnknown(knownOfArcher(view, { archer: shooter.archer }, sha256));
  return ofArcher && { ...ofArcher, bow: null, setUps: [], setUpId: null };
}

/** An evening has guests: who is not in the log is no mistake. */
async function unlessUnknown(known: Promise<KnownOfArcher>): Promise<KnownOfArcher | null> {
  try {
    return await known;
  } catch (error) {
    if (error instanceof LogError) return null;
    throw error;
  }
}
