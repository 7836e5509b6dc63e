import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { promisify } from 'node:util';
import { chromium } from 'playwright-core';

const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'chrome',
  'microsoft-edge-stable',
  'microsoft-edge',
  'msedge',
];

const MAC_APPS = ['Chromium', 'Google Chrome', 'Microsoft Edge'];
const WINDOWS_APPS = [
  'Google/Chrome/Application/chrome.exe',
  'Microsoft/Edge/Application/msedge.exe',
];

/**
 * A Chromium, Chrome or Edge for the tests of the page: the one that ENDWISE_BROWSER names, else on Linux
 * the one that came with the packages, which has no windows of its own and takes half the time; else one
 * that is installed; null where there is none that runs.
 * @throws Error where ENDWISE_BROWSER names a file that is not there
 */
export async function findBrowser(env: NodeJS.ProcessEnv = process.env): Promise<string | null> {
  const named = env['ENDWISE_BROWSER'];
  if (named) {
    if (!existsSync(named)) throw new Error(`ENDWISE_BROWSER names ${named}, which is not there.`);
    return named;
  }
  return (await fromPackage()) ?? installed(env).find((path) => existsSync(path)) ?? null;
}

function installed(env: NodeJS.ProcessEnv): string[] {
  const suffix = process.platform === 'win32' ? '.exe' : '';
  const folders = (env['PATH'] ?? '').split(delimiter).filter((folder) => folder !== '');
  return [
    ...NAMES.flatMap((name) => folders.map((folder) => join(folder, name + suffix))),
    ...(process.platform === 'darwin'
      ? MAC_APPS.map((app) => `/Applications/${app}.app/Contents/MacOS/${app}`)
      : []),
    ...['ProgramFiles', 'ProgramFiles(x86)', 'LOCALAPPDATA'].flatMap((place) =>
      env[place] ? WINDOWS_APPS.map((app) => join(env[place]!, app)) : [],
    ),
    chromium.executablePath(),
  ];
}

/** The packed browser wants libraries that not every Linux has: it counts when it tells its version. */
async function fromPackage(): Promise<string | null> {
  if (process.platform !== 'linux' || process.arch !== 'x64') return null;
  try {
    const { default: packed } = await import('@sparticuz/chromium');
    const path = await packed.executablePath();
    await promisify(execFile)(path, ['--version', '--no-sandbox']);
    return path;
  } catch {
    return null;
  }
}
