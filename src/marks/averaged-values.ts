import type { ArrowKind } from './mark.ts';

/**
 * The values that averages are of, everywhere: every arrow but the bare shafts, which are there to read
 * the bow and land where it sends them. Totals of an end have all its arrows.
 */
export function averagedValues(
  arrows: readonly { readonly kind: ArrowKind; readonly zone: number }[],
): number[] {
  return arrows.filter(({ kind }) => kind !== 'bare').map(({ zone }) => zone);
}
