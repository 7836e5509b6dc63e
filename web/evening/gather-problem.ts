/** Thrown for files that cannot be used; `message` says why and what to do. */
export class GatherProblem extends Error {
  override readonly name = 'GatherProblem';
}
