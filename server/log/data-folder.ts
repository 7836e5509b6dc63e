import { homedir } from 'node:os';
import { join } from 'node:path';

/** Where a person's log, photos and settings live; ENDWISE_DATA overrides the system's usual place. */
export function dataFolder(env: NodeJS.ProcessEnv = process.env): string {
  const own = env['ENDWISE_DATA'];
  if (own !== undefined && own !== '') return own;
  const home = homedir();
  switch (process.platform) {
    case 'win32':
      return join(env['LOCALAPPDATA'] ?? join(home, 'AppData', 'Local'), 'endwise');
    case 'darwin':
      return join(home, 'Library', 'Application Support', 'endwise');
    default:
      return join(env['XDG_DATA_HOME'] ?? join(home, '.local', 'share'), 'endwise');
  }
}
