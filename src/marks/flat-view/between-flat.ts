/** Value of an image of flat pixels at a place between them; 0 beyond its rim. */
export function betweenFlat(image: Float32Array, side: number): (x: number, y: number) => number {
  return (x, y) => {
    const u = x - 0.5;
    const v = y - 0.5;
    const i = Math.floor(u);
    const j = Math.floor(v);
    if (i < 0 || j < 0 || i >= side - 1 || j >= side - 1) return 0;
    const a = u - i;
    const b = v - j;
    const at = j * side + i;
    return (
      (image[at]! * (1 - a) + image[at + 1]! * a) * (1 - b) +
      (image[at + side]! * (1 - a) + image[at + side + 1]! * a) * b
    );
  };
}
