/** Text that is HTML already; anything else is escaped when it is put in. */
export class Html {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

type Part = string | number | null | undefined | Html | readonly Part[];

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** A template whose values are escaped. */
export function html(strings: TemplateStringsArray, ...values: readonly Part[]): Html {
  return new Html(strings.reduce((out, part, i) => out + textOf(values[i - 1]) + part));
}

function textOf(part: Part): string {
  if (part === null || part === undefined) return '';
  if (part instanceof Html) return part.text;
  if (typeof part === 'object') return part.map(textOf).join('');
  return String(part).replace(/[&<>"']/g, (character) => ENTITIES[character]!);
}
