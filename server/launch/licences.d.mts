export function licencesOf(modules: Iterable<string>): Promise<string>;
