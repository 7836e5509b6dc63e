/** '2,5', '2 5' or 'm2 m5' as numbers of marks; what is none stays so, for the schema to refuse. */
export function markNumbers(text: string): number[] {
  return text
    .split(/[\s,;]+/)
    .filter((part) => part !== '')
    .map((part) => Number(part.replace(/^m/i, '')));
}
