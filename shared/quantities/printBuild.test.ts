import { expect, it } from 'vitest';
import { makeSpec } from '../../tests/support/baseSpec.ts';
import { poseBuildTime } from './printBuild.ts';

const settings = {
  'pieces.q1.lift': 0.005,
  'pieces.q1.supports': 'removable',
  'printer.layer': 4e-5,
  'printer.recoat': 10,
  'printer.scanSpeed': 1,
  'printer.hatch': 1e-4,
  'printer.efficiency': 0.7,
  'printer.overhead': 3600,
};
const posed = { volume: 7e-5, height: 0.1, downskinArea: 0.001, plateArea: 0, supportToPart: 3e-6 };

function timeOf(change: Readonly<Record<string, unknown>>) {
  const spec = makeSpec({ ...settings, ...change });
  const piece = spec.pieces.find(({ id }) => id === 'q1');
  if (!piece) throw new Error('no piece');
  return poseBuildTime(spec, piece, posed);
}

it('is melting, layers and overhead of a piece alone, worked by hand', () => {
  // 1 m/s x 0.1 mm x 0.04 mm x 0.7 = 2.8e-9 m3/s. Melting 70 ml: 25,000 s. Supports 3 ml + 0.001 m2 x 5 mm = 8 ml at 25 %: 714 s.
  // (100 + 5) mm / 0.04 mm = 2,625 layers of 10 s: 26,250 s. Overhead 3,600 s.
  const time = timeOf({});
  if (!time.known) throw new Error(JSON.stringify(time.why));
  expect(time.value).toBeCloseTo(25_000 + 2e-6 / 2.8e-9 + 26_250 + 3600, 6);
});

it('is not known before the printer is', () => {
  expect(timeOf({ 'printer.hatch': undefined })).toMatchObject({
    known: false,
    why: { reason: 'missing', paths: ['printer.hatch'] },
  });
});
