import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: [
      'shared/**/*.test.ts',
      'server/**/*.test.ts',
      'web/**/*.test.ts',
      'tests/{reference,meta,contract,fuzz,crash}/**/*.test.ts',
    ],
    globalSetup: ['.config/kernels.mjs'],
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 20_000,
  },
});
