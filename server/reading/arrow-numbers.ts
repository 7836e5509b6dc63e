/** '2=7,3=11' or 'm2=7 m3=11': which mark has which arrow; what is none stays so, for the schema to refuse. */
export function arrowNumbers(text: string): { mark: number; arrowNumber: string }[] {
  return text
    .split(/[\s,;]+/)
    .filter((part) => part !== '')
    .map((part) => {
      const [mark = '', arrowNumber = ''] = part.split('=', 2);
      return { mark: mark === '' ? NaN : Number(mark.replace(/^m/i, '')), arrowNumber };
    });
}
