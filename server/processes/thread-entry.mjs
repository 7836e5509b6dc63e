import { URL } from 'node:url';
import { workerData } from 'node:worker_threads';
import { importBundled } from '../launch/import-bundled.mjs';

await importBundled(new URL(workerData.module));
