/**
 * How likely each of some suppositions is among them.
 * @param logs of how likely each is, up to a constant that they share; at least one
 * @returns shares that sum to 1, and the log of what they sum to before
 */
export function sharesOfLogs(logs: readonly number[]): {
  readonly shares: readonly number[];
  readonly logTotal: number;
} {
  const top = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - top));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return { shares: weights.map((weight) => weight / total), logTotal: top + Math.log(total) };
}
