import { describe, expect, it } from 'vitest';
import { workerUrl } from './worker-url.ts';

describe('worker body', () => {
  it.each([
    ['file:///shop/server/measure/pool.ts', 'measure', 'file:///shop/server/measure/workers/from-source.mjs'],
    ['file:///shop/dist/server/measure/pool.js', 'measure', 'file:///shop/dist/server/measure/workers/measure.js'],
    ['file:///shop/dist/server/cli/main.js', 'measure', 'file:///shop/dist/server/measure/workers/measure.js'],
    [
      'file:///shop/server/slipjoint/dist/server/main.js',
      'measure',
      'file:///shop/server/slipjoint/dist/server/measure/workers/measure.js',
    ],
    [
      'file:///shop/server/measure/kernels/crew.ts',
      'crew-member',
      'file:///shop/server/measure/workers/crew-member-from-source.mjs',
    ],
    [
      'file:///shop/dist/server/measure/workers/measure.js',
      'crew-member',
      'file:///shop/dist/server/measure/workers/crew-member.js',
    ],
  ] as const)('of %s: %s', (from, body, url) => {
    expect(workerUrl(from, body)).toBe(url);
  });
});
