import { describe, expect, it } from 'vitest';
import { hotYieldShare, studHotProofLoad } from '../../shared/trade/clamp/hot-proof-load.ts';
import { preloadFromTorque } from '../../shared/trade/clamp/preload-from-torque.ts';
import { proofLoad } from '../../shared/trade/clamp/proof-load.ts';
import { stressArea } from '../../shared/trade/clamp/stress-area.ts';
import { torqueForPreload } from '../../shared/trade/clamp/torque-for-preload.ts';
import { type PropertyClassKey, propertyClasses, propertyClassKeys } from '../../shared/trade/data/property-classes.ts';
import { type ThreadKey, threadKeys, threads } from '../../shared/trade/data/threads.ts';
import { expectNear, knownValue } from './nearness.ts';

const C = 273.15;
const poundForce = 4.4482216152605;
const poundInch = 0.1129848290276167;

describe('threads', () => {
  // ISO 898-1 stress areas (vectors 2.2 to 2.7; fine threads from memory): formula value, table value, mm2.
  it.each([
    ['M6', 20.12, 20.1],
    ['M7', 28.86, 28.9],
    ['M8', 36.608543, 36.6],
    ['M10', 57.989597, 58],
    ['M12', 84.266538, 84.3],
    ['M8x1', 39.17, 39.2],
    ['M10x1.25', 61.198598, 61.2],
    ['M10x1', 64.49, 64.5],
    ['M12x1.5', 88.13, 88.1],
    ['M12x1.25', 92.071838, 92.1],
  ] as const)('%s', (key, formula, table) => {
    const { diameter, pitch, stressArea: tabulated } = threads[key];
    expectNear(knownValue(stressArea.evaluate({ diameter, pitch })), formula * 1e-6, 2e-4);
    expectNear(tabulated, table * 1e-6, 1e-12);
    expectNear(knownValue(stressArea.evaluate({ diameter, pitch })), tabulated, 3e-3);
  });

  it.each(threadKeys)('%s says its own diameter', (key) => {
    expectNear(threads[key].diameter, Number(/^M(\d+)/.exec(key)?.[1]) * 1e-3, 1e-12);
    const pitch = /x(.+)$/.exec(key)?.[1];
    if (pitch !== undefined) expectNear(threads[key].pitch, Number(pitch) * 1e-3, 1e-12);
  });
});

describe('proof loads', () => {
  // ISO 898-1 table of proof loads, N (coarse printed, fine by own arithmetic): 8.8, 10.9, 12.9. The table rounds to three digits, up to 0.5 %.
  it.each([
    ['M6', 11600, 16700, 19500],
    ['M7', 16800, 24000, 28000],
    ['M8', 21200, 30400, 35500],
    ['M8x1', 22700, 32500, 38000],
    ['M10', 33700, 48100, 56300],
    ['M10x1.25', 35500, 50800, 59400],
    ['M10x1', 37400, 53500, 62600],
    ['M12', 48900, 70000, 81800],
    ['M12x1.5', 51100, 73100, 85500],
    ['M12x1.25', 53400, 76400, 89300],
  ] as const)('%s', (key: ThreadKey, low, middle, high) => {
    const rows: readonly [PropertyClassKey, number][] = [
      ['8.8', low],
      ['10.9', middle],
      ['12.9', high],
    ];
    for (const [propertyClass, expected] of rows) {
      const { proofStress } = propertyClasses[propertyClass];
      expectNear(knownValue(proofLoad.evaluate({ stressArea: threads[key].stressArea, proofStress })), expected, 6e-3);
      expectNear(knownValue(studHotProofLoad(key, propertyClass, 20 + C)), expected, 6e-3);
    }
  });

  // ISO 898-1:1999 annex (ReL, MPa) and ISO 3506-1 annex (share of cold Rp0.2), from memory.
  it.each([
    ['8.8', 200, 540 / 640],
    ['10.9', 300, 705 / 940],
    ['12.9', 100, 1020 / 1100],
    ['A2-70', 400, 0.7],
    ['A4-80', 300, 0.75],
    ['10.9', 250, (790 + 705) / 2 / 940],
  ] as const)('class %s at %d C', (propertyClass, celsius, expected) => {
    expectNear(knownValue(hotYieldShare(propertyClass, celsius + C)), expected, 1e-9);
  });

  it.each(propertyClassKeys)(
    'class %s is whole when cold, weaker when hot, unknown past its table',
    (propertyClass) => {
      for (const celsius of [0, 15, 20]) expect(knownValue(hotYieldShare(propertyClass, celsius + C))).toBe(1);
      const last = propertyClasses[propertyClass].hotYield.at(-1)?.[0] ?? Number.NaN;
      expect(knownValue(hotYieldShare(propertyClass, last + C))).toBeLessThan(0.8);
      for (const celsius of [last + 0.1, -0.1, Number.NaN]) {
        expect(studHotProofLoad('M8', propertyClass, celsius + C)).toMatchObject({
          known: false,
          why: { reason: 'outOfValidity', input: `hot yield of class ${propertyClass}: temperature` },
        });
      }
    },
  );
});

describe('torque and preload', () => {
  // Vectors 2.23 and 2.24 and the page example for K 0.20, own arithmetic: M8 class 10.9 at 75 % of the 30 400 N proof load.
  it.each([
    [0.13, 23.712],
    [0.15, 27.36],
    [0.2, 36.5],
  ])('K %d', (nutFactor, expected) => {
    const torque = knownValue(torqueForPreload.evaluate({ preload: 22800, nutFactor, diameter: 8e-3 }));
    expectNear(torque, expected, 1e-3);
    expectNear(knownValue(preloadFromTorque.evaluate({ torque, nutFactor, diameter: 8e-3 })), 22800, 1e-12);
  });

  // Page example, own arithmetic: the same 25 N.m on M8.
  it.each([
    [0.12, 26e3],
    [0.25, 12.5e3],
  ])('25 N.m at K %d', (nutFactor, expected) => {
    expectNear(knownValue(preloadFromTorque.evaluate({ torque: 25, nutFactor, diameter: 8e-3 })), expected, 2e-3);
  });

  // SAND2008-0371 appendix C (vector 2.26): 1800 lbf.in, K 0.2, 5/8 in, scatter +-35 %, 5 % loss.
  it('2.26 published preload band', () => {
    const nominal =
      knownValue(preloadFromTorque.evaluate({ torque: 1800 * poundInch, nutFactor: 0.2, diameter: 0.625 * 0.0254 })) /
      poundForce;
    expectNear(nominal, 14400, 1e-4);
    expectNear(nominal * 1.35, 19440, 1e-4);
    expectNear(nominal * 0.65, 9360, 1e-4);
    expectNear(nominal * 0.65 * 0.95, 8892, 1e-4);
  });

  // VDI 2230 fine-thread table (published, vectors 2.8 to 2.22): assembly preload and torque give the nut factor the K form needs.
  it.each([
    ['M8x1', 20.7, 22.8, 0.1],
    ['M8x1', 19.7, 29.2, 0.14],
    ['M8x1', 29.7, 38.3, 0.12],
    ['M10x1.25', 31.6, 51, 0.12],
    ['M10x1.25', 30.8, 57, 0.14],
    ['M10x1.25', 46.4, 75, 0.12],
    ['M12x1.25', 49.1, 79, 0.1],
    ['M12x1.25', 48, 90, 0.12],
    ['M12x1.25', 46.8, 101, 0.14],
    ['M12x1.25', 82.5, 155, 0.12],
  ] as const)('%s %d kN %d N.m at friction %d', (key, kilonewton, torque, friction) => {
    const { diameter, pitch } = threads[key];
    const pitchDiameter = diameter - 0.649519 * pitch;
    const bearing = { M8x1: 11.63 + 9, 'M10x1.25': 14.63 + 11, 'M12x1.25': 16.63 + 13.5 }[key] / 2e3;
    const nutFactor = (0.16 * pitch + 0.58 * pitchDiameter * friction + (bearing / 2) * friction) / diameter;
    expectNear(knownValue(preloadFromTorque.evaluate({ torque, nutFactor, diameter })), kilonewton * 1e3, 0.015);
    expectNear(
      knownValue(torqueForPreload.evaluate({ preload: kilonewton * 1e3, nutFactor, diameter })),
      torque,
      0.015,
    );
  });

  it('a stainless class has no proof stress of its own: Rp0.2 stands in and the source says so', () => {
    expect(propertyClasses['A2-70'].proofStress).toBe(450e6);
    expect(propertyClasses['A2-70'].source.note).toContain('Rp0.2');
  });
});
