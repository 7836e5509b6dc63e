import type { Logger } from 'pino';
import type { UsualSizes } from '../../src/request/request.ts';
import type { Log } from '../log/log.ts';
import type { Readings } from '../reading/readings.ts';

/** What the server stands on. */
export interface AppDeps {
  readonly readings: Readings;
  readonly sizes: () => Promise<UsualSizes>;
  /** The built page, or null where only the interface is served. */
  readonly webFolder: string | null;
  /** For uploads, while their request lasts. */
  readonly uploadFolder: string;
  readonly log: Log;
  readonly logger: Logger;
  /** Names by which a proxy's visitors know the server. @default none */
  readonly names?: readonly string[];
  readonly version: string;
  /**
   * When aborted the server ends: whoever waits for a reading is told to ask another server for it.
   * @default everybody is answered first
   */
  readonly closing?: AbortSignal;
}
