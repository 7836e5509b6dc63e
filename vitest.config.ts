import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    environment: 'node',
    testTimeout: 60_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
    // The interop proxy would make the OpenCV module, which has a `then`, look like a promise.
    deps: { interopDefault: false },
  },
});
