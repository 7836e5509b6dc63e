import { work } from '../../../server/worker/work.ts';

// node --import tsx start-worker.ts ADDRESS READER AT-ONCE [SECONDS]: a worker whose readings are a stand-in.
const [address, reader, atOnce, leaseSeconds] = process.argv.slice(2);
await work({
  address: address!,
  reader: new URL(reader!),
  workers: Number(atOnce),
  ...(leaseSeconds === undefined ? {} : { leaseSeconds: Number(leaseSeconds) }),
});
process.exit(0);
