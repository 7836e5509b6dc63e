import { readdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

/**
 * Licence texts of the packages of which something is in a bundle, each once under their names.
 * @param {Iterable<string>} modules paths of the bundled modules
 */
export async function licencesOf(modules) {
  const folders = new Set();
  for (const path of modules) {
    const folder = path.match(/^.*node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/]+/)?.[0];
    // Bundlers put a sign before the path of what they make up themselves.
    if (folder !== undefined && !folder.startsWith('\0')) folders.add(folder);
  }
  const holders = new Map();
  for (const folder of [...folders].sort()) {
    const manifest = await readFile(join(folder, 'package.json'), 'utf8');
    const { name, version, license } = JSON.parse(manifest);
    const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
    const text =
      file === undefined ? `${license} licence` : await readFile(join(folder, file), 'utf8');
    holders.set(text.trim(), [...(holders.get(text.trim()) ?? []), `${name} ${version}`]);
  }
  const parts = [...holders].map(([text, names]) => `## ${names.join(', ')}\n\n${text}\n`);
  return `Parts of these packages are in the files beside this one.\n\n${parts.join('\n')}`;
}
