export function splitOpenCv(
  module: string,
): Promise<{ readonly glue: string; readonly wasm: Buffer }>;
