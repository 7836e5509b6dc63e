import { URL } from 'node:url';
import { workerData } from 'piscina';
import { importBundled } from '../launch/import-bundled.mjs';

const { default: run, prepare } = await importBundled(new URL(workerData.module));

/** Loads what the module needs, says so through the port, then runs the job. */
export default async function runTask({ job, loaded }) {
  await prepare?.();
  loaded.postMessage('loaded');
  loaded.close();
  return run(job);
}
