/** Exit statuses: a reading was made; the photo could not be read; wrong usage. */
export const EXIT = { done: 0, unreadable: 1, usage: 2 } as const;

/** Thrown for options and files that make no sense; the command line ends with status 2. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}
