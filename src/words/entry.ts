/** What a text is in a language: itself, or a form for each of the language's plurals. */
export type Entry = string | Forms;

/** By the names that `Intl.PluralRules` gives them; a form that is missing is that of `other`. */
export type Forms = { readonly other: string } & {
  readonly [rule in Exclude<Intl.LDMLPluralRule, 'other'>]?: string;
};

export type Catalogue = Readonly<Record<string, Entry>>;
