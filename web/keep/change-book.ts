import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { settings } from '../state/settings.ts';
import { database } from '../store/database.ts';
import { handOver } from './hand-over.ts';

export interface BookRows {
  readonly bows?: readonly Bow[];
  readonly setUps?: readonly SetUp[];
}

/** Writes bows and set-ups down, in place of those of their ids; the log follows. */
export async function writeDown({ bows = [], setUps = [] }: BookRows): Promise<void> {
  const write = (await database()).transaction(['bows', 'setUps'], 'readwrite');
  for (const bow of bows) await write.objectStore('bows').put(bow);
  for (const setUp of setUps) await write.objectStore('setUps').put(setUp);
  await write.done;
  void handOver();
}

/**
 * Takes bows and set-ups out of the book; the log follows.
 * @returns how to put them back as they were
 */
export async function takeOut({ bows = [], setUps = [] }: BookRows): Promise<() => Promise<void>> {
  const write = (await database()).transaction(['bows', 'setUps'], 'readwrite');
  for (const { id } of bows) await write.objectStore('bows').delete(id);
  for (const { id } of setUps) await write.objectStore('setUps').delete(id);
  await write.done;
  const backInUse = leaveUnused(setUps);
  void handOver();
  return async () => {
    backInUse();
    await writeDown({ bows, setUps });
  };
}

/** Takes bows and set-ups out of use; what was shot with them keeps them. @returns how to undo it */
export async function archive({ bows = [], setUps = [] }: BookRows): Promise<() => Promise<void>> {
  const archived = true;
  await writeDown({
    bows: bows.map((bow) => ({ ...bow, archived })),
    setUps: setUps.map((setUp) => ({ ...setUp, archived })),
  });
  const backInUse = leaveUnused(setUps);
  return async () => {
    backInUse();
    await writeDown({ bows, setUps });
  };
}

/** Puts what was archived into use again. */
export async function takeBack({ bows = [], setUps = [] }: BookRows): Promise<void> {
  await writeDown({ bows: bows.map(inUse), setUps: setUps.map(inUse) });
}

function inUse<T extends Bow | SetUp>(row: T): T {
  const back = { ...row };
  delete back.archived;
  return back;
}

/** The next ends are shot with none of these. */
function leaveUnused(setUps: readonly SetUp[]): () => void {
  const { setUpId } = settings.value;
  if (!setUps.some(({ id }) => id === setUpId)) return () => {};
  settings.value = { ...settings.value, setUpId: null };
  return () => (settings.value = { ...settings.value, setUpId });
}
