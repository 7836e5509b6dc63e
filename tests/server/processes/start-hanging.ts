import { ProcessPool } from '../../../server/processes/process-pool.ts';

/** Stands for a server with a worker that hangs in a photo. */
const pool = new ProcessPool<null, null>({
  module: new URL('./hanging-job.ts', import.meta.url),
  processes: 1,
  heapMb: 64,
  idleMs: 1000,
});
await pool.run(null, { onBegin: () => process.stdout.write('begun\n') });
