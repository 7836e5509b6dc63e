import type { EntryNetwork } from './entry-network.ts';
import type { MarkNetwork } from './mark-network.ts';
import type { RearNetwork } from './rear-network.ts';

/** The trained networks: they come together or not at all. */
export interface Networks {
  readonly marks: MarkNetwork;
  readonly entries: EntryNetwork;
  readonly rears: RearNetwork;
}
