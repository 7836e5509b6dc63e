import process from 'node:process';
import { URL } from 'node:url';
import workerpool from 'workerpool';
import { importBundled } from '../launch/import-bundled.mjs';
import { endWithParent } from './end-with-parent.mjs';

endWithParent();

const { default: run, prepare } = await importBundled(new URL(process.argv[2]));

workerpool.worker({
  run: async (job) => {
    await prepare?.();
    workerpool.workerEmit('begin');
    return run(job);
  },
});
