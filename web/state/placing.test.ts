import { expect, it } from 'vitest';
import { gaussian, seededRandom } from '../../shared/geometry/random.ts';
import { makeSpec } from '../../tests/support/baseSpec.ts';
import { fitOfDatums, suspectOf, unfinishedDatums } from './placing.ts';

const places = [
  [-0.276, -0.004, 0.052],
  [0.276, -0.004, 0.052],
  [0.462, 0.318, 0.204],
  [-0.418, 0.455, -0.241],
  [-0.037, 0.512, 0.287],
] as const;

/** A scan turned a quarter about z and a metre off, with noise of a quarter millimetre; points are known by number. */
function spec({ count = 5, seed = 3, changed = {} }: { count?: number; seed?: number; changed?: object } = {}) {
  const random = seededRandom(seed);
  const off = (): number => 0.00025 * gaussian(random);
  const rows = Array.from({ length: 5 }, (_, i) => {
    const [x, y, z] = (i < count ? places[i] : undefined) ?? [];
    return Object.fromEntries([
      [`datums.d${i + 1}`, x === undefined ? undefined : i + 1],
      [`datums.d${i + 1}.name`, x === undefined ? undefined : `Point ${i + 1}`],
      [`datums.d${i + 1}.carX`, x],
      [`datums.d${i + 1}.carY`, y],
      [`datums.d${i + 1}.carZ`, z],
      [`datums.d${i + 1}.scanX`, y === undefined ? undefined : 1 - y + off()],
      [`datums.d${i + 1}.scanY`, x === undefined ? undefined : x + off()],
      [`datums.d${i + 1}.scanZ`, z === undefined ? undefined : z + off()],
    ]);
  });
  return makeSpec(Object.assign({}, ...rows, changed));
}

it('names the point without which the others fit, although its error is spread over all of them', () => {
  const bad = spec({ changed: { 'datums.d2.scanZ': 0.092 } });
  const others = fitOfDatums(bad)?.pairs.filter(({ id }) => id !== 'd2');
  expect(others?.some(({ residual }) => residual > 0.005)).toBe(true);
  const suspect = suspectOf(bad);
  expect(suspect).toMatchObject({ id: 'd2', name: 'Point 2' });
  expect(suspect?.without).toBeLessThan(0.001);
});

it('suspects no point where all are as good as the scanner', () => {
  const suspected = Array.from({ length: 40 }, (_, seed) => suspectOf(spec({ seed: seed + 1 })));
  expect(suspected.filter(Boolean).length).toBeLessThanOrEqual(2);
});

it('does not judge one of four: the three others fit almost anything', () => {
  expect(suspectOf(spec({ count: 4, changed: { 'datums.d2.scanZ': 0.092 } }))).toBeNull();
});

it('names the points that lack a number', () => {
  expect(unfinishedDatums(spec())).toEqual([]);
  const half = spec({ changed: { 'datums.d4.carX': undefined } });
  expect(fitOfDatums(half)).toBeNull();
  expect(unfinishedDatums(half)).toEqual(['Point 4']);
});
