/**
 * Of things that cannot all be there the likelier stay, likeliest first.
 * @param isRuledOut by one that is likelier and stays
 */
export function likeliestOf<T extends { readonly probability: number }>(
  all: readonly T[],
  isRuledOut: (one: T, by: T) => boolean,
): T[] {
  const kept: T[] = [];
  for (const one of [...all].sort((a, b) => b.probability - a.probability)) {
    if (!kept.some((by) => isRuledOut(one, by))) kept.push(one);
  }
  return kept;
}
