/** Attribute values of a drawn element; undefined and null leave the attribute out. */
export type SvgAttributes = Readonly<Record<string, string | number | null | undefined>>;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
};

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (character) => ENTITIES[character]!);
}

/** A number as SVG wants it: at most three decimals, no trailing zeros, never -0 or exponents. */
export function svgNumber(value: number): string {
  const rounded = Math.round(value * 1000) / 1000;
  return String(rounded === 0 ? 0 : rounded);
}

/** One SVG element as text; children are SVG text already. */
export function svg(name: string, attributes: SvgAttributes, ...children: string[]): string {
  let out = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined || value === null) continue;
    out += ` ${key}="${typeof value === 'number' ? svgNumber(value) : escaped(value)}"`;
  }
  return children.length === 0 ? `${out}/>` : `${out}>${children.join('')}</${name}>`;
}

/** A text element; the text is escaped here. */
export function svgText(attributes: SvgAttributes, text: string): string {
  return svg('text', attributes, escaped(text));
}

/** A closed or open polyline as path data. */
export function polyline(
  points: readonly (readonly [number, number])[],
  closing: 'open' | 'closed',
): string {
  const steps = points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${svgNumber(x)} ${svgNumber(y)}`);
  return steps.join('') + (closing === 'closed' && steps.length > 0 ? 'Z' : '');
}
