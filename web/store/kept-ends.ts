import { database } from './database.ts';
import { keptEndSchema, type KeptEnd } from './kept-end.ts';

/** The ends kept on this device, latest first; rows that no longer fit their schema are passed over. */
export async function keptEnds(): Promise<KeptEnd[]> {
  const rows = await (await database()).getAll('ends');
  return rows
    .flatMap((row) => {
      const kept = keptEndSchema.safeParse(row);
      return kept.success ? [kept.data] : [];
    })
    .sort((a, b) => b.createdAt.localeCompare(a.createdAt));
}
