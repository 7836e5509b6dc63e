import { Option } from 'commander';

/** Of every command that opens a log. */
export interface LogOptions {
  database?: string | undefined;
}

/** Looked at where the log is opened: what is wrong with it is said there without its password. */
export function databaseOption(): Option {
  return new Option(
    '--database <address>',
    'the log in PostgreSQL, postgres://user@host/name, rather than in the data folder (ENDWISE_DATABASE; the password rather by PGPASSWORD or ~/.pgpass)',
  );
}
