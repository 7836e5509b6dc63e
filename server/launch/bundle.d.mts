import type { BuildResult, Plugin } from 'esbuild';

export const ROOT: string;
export const PACKED: string;
export function bundledModule(source: string): Promise<string | null>;
export function prepareBundle(): Promise<void>;
export function buildBundle(
  folder: string,
  plugins: Plugin[],
): Promise<BuildResult<{ metafile: true }>>;
