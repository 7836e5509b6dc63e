export function bundledModule(source: string): Promise<string | null>;
export function prepareBundle(): Promise<void>;
