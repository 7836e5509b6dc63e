import { database } from './database.ts';
import type { Book } from './log-of-kept.ts';

/** The bows and set-ups that were written down on this device. */
export async function writtenBook(): Promise<Book> {
  const db = await database();
  const [bows, setUps] = await Promise.all([db.getAll('bows'), db.getAll('setUps')]);
  return { bows, setUps };
}
