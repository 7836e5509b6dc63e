import { database } from '../store/database.ts';
import { heldNames } from '../state/between-tabs.ts';
import type { EndRecord } from '../state/end-record.ts';

/** The lock that a tab holds on an end for as long as it has it open. */
export function endLock(id: string): string {
  return `endwise.end.${id}`;
}

/** Where this tab notes, across reloads, which ends it has open. */
export const OPEN_HERE = 'endwise.open';

/** Ends that are not finished and that no other tab holds. */
export async function leftBehind(): Promise<readonly EndRecord[]> {
  const drafts = await (await database()).getAll('drafts');
  const held = await heldNames();
  const ours = sessionStorage.getItem(OPEN_HERE) ?? '';
  return drafts.filter(({ id }) => ours.includes(id) || !held.has(endLock(id)));
}
