import { URL } from 'node:url';
import { importBundled } from '../launch/import-bundled.mjs';

await importBundled(new URL('./serve.ts', import.meta.url));
