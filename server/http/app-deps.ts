import type { Logger } from 'pino';
import type { UsualSizes } from '../../src/request/request.ts';
import type { Log } from '../log/log.ts';
import type { ReadingPool } from '../reading/reading-pool.ts';

/** What the server stands on. */
export interface AppDeps {
  readonly pool: Pick<ReadingPool, 'read' | 'waiting' | 'busy'>;
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
}
