/** A value as scorers write it: X for the inner ten, M for a miss. */
export function zoneLabel(mark: { readonly zone: number; readonly inner: boolean }): string {
  if (mark.inner) return 'X';
  return mark.zone === 0 ? 'M' : String(mark.zone);
}
