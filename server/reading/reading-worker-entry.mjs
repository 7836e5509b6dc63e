import { workerData } from 'piscina';
import { register } from 'tsx/esm/api';

// A worker thread does not inherit its parent's loader: TypeScript has to be taught to it anew.
register();
const { default: run } = await import(workerData.module);

export default run;
