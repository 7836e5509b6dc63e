import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, extname, join } from 'node:path';
import process from 'node:process';
import { cachedDataVersionTag } from 'node:v8';
import { Script } from 'node:vm';

/**
 * Runs a bundled CommonJS module. What it has compiled by the end of the process is kept beside it, so
 * that the next process with the same task compiles nothing. Node itself can do this from version 22 on.
 * @param {string} file path of the module, whose content never changes
 * @returns {unknown} what it exports
 */
export function requireCompiled(file) {
  const source = readFileSync(file, 'utf8');
  const kept = keptFor(file);
  const compiled = readKept(kept);
  const script = new Script(
    `(function (exports, require, module, __filename, __dirname) { ${source}\n})`,
    { filename: file, ...(compiled === null ? {} : { cachedData: compiled }) },
  );
  // What ended badly may have been a command that does not exist.
  process.once('exit', (status) => {
    if (status === 0 && (compiled === null || script.cachedDataRejected)) keep(kept, script);
  });
  const module = { exports: {} };
  script.runInThisContext()(module.exports, createRequire(file), module, file, dirname(file));
  return module.exports;
}

/** By task, since each uses other functions; by processor, version and settings of the engine. */
function keptFor(file) {
  const task = /^[a-z][a-z-]*$/.exec(process.argv[2] ?? '')?.[0] ?? 'any';
  const name = `${basename(file, extname(file))}-${task}-${process.arch}-${cachedDataVersionTag()}`;
  return join(dirname(file), `${name}.compiled`);
}

/** Null where there is none, or not as it was written: the engine itself checks no more than a length. */
function readKept(path) {
  let bytes;
  try {
    bytes = readFileSync(path);
  } catch {
    return null;
  }
  const seal = bytes.subarray(0, SEAL_BYTES);
  const data = bytes.subarray(SEAL_BYTES);
  return sealOf(data).equals(seal) ? data : null;
}

function keep(path, script) {
  const own = `${path}.${process.pid}`;
  try {
    const data = script.createCachedData();
    writeFileSync(own, Buffer.concat([sealOf(data), data]));
    renameSync(own, path);
  } catch {
    // Where nothing may be written, or the disk is full, every process compiles for itself.
    rmSync(own, { force: true });
  }
}

const SEAL_BYTES = 32;

const sealOf = (data) => createHash('sha256').update(data).digest();
