import { workerData } from 'piscina';
import { register } from 'tsx/esm/api';

// A worker thread does not inherit its parent's loader: TypeScript has to be taught to it anew.
register();
const { default: run, prepare } = await import(workerData.module);

/** Loads what the module needs, says so through the port, then runs the job. */
export default async function runTask({ job, loaded }) {
  await prepare?.();
  loaded.postMessage('loaded');
  loaded.close();
  return run(job);
}
