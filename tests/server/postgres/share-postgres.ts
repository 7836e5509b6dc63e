import { mkdtemp } from 'node:fs/promises';
import type { TestProject } from 'vitest/node';
import { stopPostgres } from './start-postgres.ts';
import { folderPrefix, removeLeftBehind } from '../folders-of-runs.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Of the PostgreSQL that all test files share: the first that needs it starts it there. */
    postgresFolder: string;
  }
}

/** Ends the PostgreSQL that test files share, where one of them has started it. */
export default async function sharePostgres(project: TestProject): Promise<() => Promise<void>> {
  removeLeftBehind();
  const folder = await mkdtemp(folderPrefix());
  project.provide('postgresFolder', folder);
  return () => stopPostgres(folder);
}
