/** Thrown for a folder or archive that cannot be used at all; `message` says why and what to do. */
export class GatherError extends Error {
  override readonly name = 'GatherError';
}
