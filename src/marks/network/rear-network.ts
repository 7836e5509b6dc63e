import type { NetworkSession } from './network-session.ts';
import { STRIP_PLANES, STRIP_WIDTH, type RearEvidence, type RearStrip } from './rear-strip.ts';

/** Evidence of where an arrow ends and whether it has vanes, by the trained network. */
export interface RearNetwork {
  readonly read: (strip: RearStrip) => Promise<RearEvidence>;
  readonly release: () => Promise<void>;
}

/** Serves evidence of rear ends from a loaded network. */
export function createRearNetwork(session: NetworkSession): RearNetwork {
  return {
    read: async ({ planes, lengthPx }) => {
      const values = await session.run(planes, [1, STRIP_PLANES, STRIP_WIDTH, lengthPx]);
      const steps = values.length / 2;
      return { end: values.subarray(0, steps), fletched: values.subarray(steps) };
    },
    release: () => session.release(),
  };
}
