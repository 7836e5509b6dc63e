import { parseArgs } from 'node:util';
import { readingBench } from './reading-bench.ts';

/*
 * npm run bench -- [PART ...] [--photos FOLDER] [--only PREFIX] [--results FILE.jsonl]
 * Parts: readings. All of them when none is named.
 */
const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    photos: { type: 'string' },
    only: { type: 'string' },
    results: { type: 'string' },
  },
});

const parts: Record<string, () => Promise<void>> = {
  readings: () =>
    readingBench({
      ...(values.photos === undefined ? {} : { folder: values.photos }),
      ...(values.only === undefined ? {} : { only: values.only }),
      ...(values.results === undefined ? {} : { resultsFile: values.results }),
    }),
};

const unknown = positionals.filter((name) => !(name in parts));
if (unknown.length > 0) {
  console.error(`No such part: ${unknown.join(', ')}. Parts: ${Object.keys(parts).join(', ')}.`);
  process.exit(2);
}
for (const [name, run] of Object.entries(parts)) {
  if (positionals.length === 0 || positionals.includes(name)) await run();
}
