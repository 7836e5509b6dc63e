/**
 * When an end was shot, ISO date and time with a zone: what a person wrote, else the camera's own
 * clock, else now.
 */
export function shotAt(...told: readonly (string | undefined)[]): string {
  for (const text of told) {
    const time = text === undefined ? NaN : Date.parse(text);
    if (Number.isFinite(time)) return new Date(time).toISOString();
  }
  return new Date().toISOString();
}
