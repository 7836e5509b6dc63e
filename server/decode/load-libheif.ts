import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname } from 'node:path';
import { compileFunction } from 'node:vm';
import type { HeicDecode } from 'heic-decode';

const require = createRequire(import.meta.url);

/** What the decoder says of files that it dislikes is of no use on a person's terminal. */
const silent = Object.fromEntries(
  ['log', 'info', 'warn', 'error', 'debug'].map((name) => [name, () => undefined]),
);

let loading: Promise<HeicDecode> | undefined;

/**
 * libheif, a WASM module of 2 MB under the LGPL, loaded once and with a console of its own: the one of
 * this process stays as it is.
 */
export function loadLibheif(): Promise<HeicDecode> {
  loading ??= load();
  return loading;
}

async function load(): Promise<HeicDecode> {
  const path = require.resolve('libheif-js/libheif-wasm/libheif-bundle.js');
  const names = ['module', 'exports', 'require', '__dirname', '__filename', 'console'];
  const module = { exports: {} };
  const evaluate = compileFunction(await readFile(path, 'utf8'), names, {
    filename: path,
  }) as (...values: unknown[]) => void;
  evaluate(module, module.exports, createRequire(path), dirname(path), path, silent);
  const start = module.exports as (options: object) => unknown;
  const withDecoder = require('heic-decode/lib.js') as (libheif: unknown) => HeicDecode;
  const nothing = () => undefined;
  return withDecoder(start({ print: nothing, printErr: nothing }));
}
