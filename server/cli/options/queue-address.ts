import { isPostgresAddress, logAddress } from '../../log/log-address.ts';
import { UsageError } from '../terminal/exit.ts';
import type { LogOptions } from './database-option.ts';

/** The address of the database that holds the queue. @throws UsageError where none was said */
export function queueAddress({ database }: LogOptions): string {
  const address = logAddress(database);
  if (isPostgresAddress(address)) return address;
  throw new UsageError(
    'There is a queue only with the log in PostgreSQL: name it with --database or ENDWISE_DATABASE.',
  );
}
