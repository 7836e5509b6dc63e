import console from 'node:console';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { bundledModule } from './bundle.mjs';
import { requireCompiled } from './require-compiled.mjs';

/**
 * Imports a TypeScript module of the server: from its bundle, or as it is where there is none.
 * @param {URL} module
 */
export async function importBundled(module) {
  const bundled = await bundledModule(fileURLToPath(module)).catch((error) => {
    // A checkout that may not be written to still works, only slower.
    if (process.env['ENDWISE_DEBUG'] !== undefined) console.error(error);
    return null;
  });
  if (bundled !== null) return requireCompiled(fileURLToPath(bundled));
  const { register } = await import('tsx/esm/api');
  register();
  return import(module.href);
}
