import { runFuzz } from './run-fuzz.ts';

const rounds = Number(process.argv[2] ?? 5000);
const seed = Number(process.argv[3] ?? 1);
const start = performance.now();
const { findings, ...counts } = await runFuzz(rounds, seed);
console.log(`${rounds} inputs, seed ${seed}, ${Math.round((performance.now() - start) / 1000)} s`);
console.log(JSON.stringify(counts, null, 2));
console.log(findings.length === 0 ? 'No findings.' : findings.join('\n'));
process.exit(findings.length === 0 ? 0 : 1);
