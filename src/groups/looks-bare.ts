import type { ArrowKind } from '../marks/mark.ts';

/** Probability of a bare shaft by what was seen of a rear end, or said; undefined where neither tells. */
export function looksBare({ kind }: { readonly kind: ArrowKind }): number | undefined {
  return LOOKS_BARE[kind];
}

const LOOKS_BARE: Record<ArrowKind, number | undefined> = {
  fletched: 0.01,
  bare: 0.99,
  unknown: undefined,
};
