/**
 * Width of a text in units of the drawing, a little on the safe side for any font a drawing may get:
 * a core without a canvas cannot measure (an em of 0.62 is the mean of the widest of the usual fonts).
 */
export function textWidth(text: string, fontSize: number): number {
  return 0.62 * fontSize * [...text].length;
}

/** A text in lines no wider than a width; a word that is wider by itself is cut. */
export function wrapWords(text: string, width: number, fontSize: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/).filter((one) => one !== '')) {
    const last = lines.at(-1);
    if (last !== undefined && textWidth(`${last} ${word}`, fontSize) <= width) {
      lines[lines.length - 1] = `${last} ${word}`;
    } else {
      lines.push(shortened(word, width, fontSize));
    }
  }
  return lines;
}

/** A text cut to a width, with an ellipsis for what is cut off. */
export function shortened(text: string, width: number, fontSize: number): string {
  const most = Math.max(2, Math.floor(width / textWidth('n', fontSize)));
  const letters = [...text];
  return letters.length <= most
    ? text
    : `${letters
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`;
}
