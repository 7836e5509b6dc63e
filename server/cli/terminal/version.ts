import { readFile } from 'node:fs/promises';

/** The version in package.json. */
export async function endwiseVersion(): Promise<string> {
  const text = await readFile(new URL('../../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
