import { cp, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Command } from 'commander';
import { callerPath } from '../terminal/caller-path.ts';
import { UsageError } from '../terminal/exit.ts';
import { print } from '../terminal/print.ts';

const WEB = fileURLToPath(new URL('../../../dist/web/', import.meta.url));

/** What the server sends as headers with the page; a web space knows nothing of it. */
const POLICY = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "worker-src 'self' blob:",
  "connect-src 'self' blob: data:",
  "img-src 'self' blob: data:",
  "style-src 'self' 'unsafe-inline'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

export function addSiteCommand(program: Command): void {
  program
    .command('site')
    .description(
      'write the page as files for any web space with HTTPS; photos are read on the phone',
    )
    .argument('<folder>', 'a new or empty folder, or one with an earlier site')
    .action(site);
}

async function site(folder: string): Promise<void> {
  const path = callerPath(folder);
  const page = await readFile(join(WEB, 'index.html'), 'utf8').catch(() => {
    throw new Error('The page is not built yet: "npm run build" builds it.');
  });
  await mkdir(path, { recursive: true });
  const there = await readdir(path);
  if (there.length > 0 && !there.includes('manifest.webmanifest')) {
    throw new UsageError(`${folder} holds other files: name a new or empty folder.`);
  }
  await cp(WEB, path, { recursive: true });
  await writeFile(join(path, 'index.html'), withoutServer(page));
  print(`The page is in ${folder}: copy all of it to a web space with HTTPS, into any folder.`);
}

function withoutServer(page: string): string {
  const head = [
    `<meta http-equiv="Content-Security-Policy" content="${POLICY}" />`,
    '<meta name="referrer" content="no-referrer" />',
    '<meta name="endwise-server" content="none" />',
  ];
  return page.replace(/<meta charset="[^"]*"\s*\/?>/i, (charset) =>
    [charset, ...head].join('\n    '),
  );
}
