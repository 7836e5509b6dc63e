import { Buffer } from 'node:buffer';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

const SOURCE = createRequire(import.meta.url).resolve('@techstark/opencv-js');
const DATA = 'data:application/octet-stream;base64,';

/**
 * OpenCV as its package has it is one script of 11 MB that holds its WebAssembly as text and, when it
 * starts, makes some two thousand functions from text, of which a reading calls a few dozen. Here the
 * WebAssembly is a file of its own, which is read as it is or compiled while it arrives, and a function
 * is made when it is first called.
 * @param {string} module the glue's settings (Emscripten's `Module`) as an expression
 * @returns {Promise<{ glue: string, wasm: Buffer }>} a CommonJS script, and its WebAssembly
 * @throws where the package is not the one that this was written for
 */
export async function splitOpenCv(module) {
  const whole = await readFile(SOURCE, 'utf8');
  const from = whole.indexOf(`"${DATA}`, whole.indexOf('var wasmBinaryFile='));
  const to = whole.indexOf('"', from + 1);
  const wasm = Buffer.from(whole.slice(from + 1 + DATA.length, to), 'base64');
  let glue = `${whole.slice(0, from)}"opencv.wasm"${whole.slice(to + 1)}`;
  for (const [old, now] of [['var Module = {};', `var Module = ${module};`], ...LATER]) {
    if (glue.split(old).length !== 2) {
      throw new Error(`OpenCV's glue has changed: it does not hold "${old}" once.`);
    }
    glue = glue.replace(old, () => now);
  }
  return { glue, wasm };
}

/** What is made from text at once, and what does the same when it is called. */
const LATER = [
  [
    `return new Function("body","return function "+name+"() {\\n"+'    "use strict";'+"    return body.apply(this, arguments);\\n"+"};\\n")(body)`,
    'return Object.defineProperty(function(){return body.apply(this,arguments)},"name",{value:name})',
  ],
  [
    'return new Function("dynCall","rawFunction",body)(dynCall,rawFunction)',
    'return dynCall.bind(null,rawFunction)',
  ],
  [
    'function craftInvokerFunction(humanName,argTypes,classType,cppInvokerFunc,cppTargetFunc){',
    'function craftInvokerFunction(...about){var made;return function(...args){made??=craftNow(...about);return made.apply(this,args)}}' +
      'function craftNow(humanName,argTypes,classType,cppInvokerFunc,cppTargetFunc){',
  ],
];
