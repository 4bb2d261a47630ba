import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import {
  ovalityLimits,
  preBendWall,
  straightBetweenBends,
  straightBetweenBendsSource,
} from '../../shared/trade/data/bend-practice.ts';
import {
  cuttingOff,
  machiningStock,
  overhangSteps,
  type PrintLimit,
  printFeatures,
  printMaterials,
  selfSupportingAngles,
  stressReliefShare,
} from '../../shared/trade/data/print-limits.ts';
import { type BoreCrown, boreCrown } from '../../shared/trade/print/bore-crown.ts';
import { buildTime, energyDensity } from '../../shared/trade/print/build-time.ts';
import { deviationSummary } from '../../shared/trade/print/deviation-summary.ts';
import { layerCount } from '../../shared/trade/print/layer-count.ts';
import { localOverhang } from '../../shared/trade/print/local-overhang.ts';
import { overhangFromVertical } from '../../shared/trade/print/overhang-from-vertical.ts';
import { overhangOfNormal } from '../../shared/trade/print/overhang-of-normal.ts';
import { powderCharge } from '../../shared/trade/print/powder-charge.ts';
import { printCost } from '../../shared/trade/print/print-cost.ts';
import { stairRoughness } from '../../shared/trade/print/stair-roughness.ts';
import { bendOvality } from '../../shared/trade/tube/bend-ovality.ts';
import { expectNear, knownValue } from './nearness.ts';

const mm = 1e-3;
const degree = Math.PI / 180;

describe('angles', () => {
  it('the two conventions add up to a right angle, whichever way a facet is given', () => {
    for (let tilt = 0; tilt <= 90; tilt += 5) {
      const plateAngle = knownValue(overhangOfNormal.evaluate({ downwards: -Math.cos(tilt * degree) }));
      expect(plateAngle).toBeCloseTo(tilt * degree, 7);
      expectNear(knownValue(overhangFromVertical.evaluate({ plateAngle })) + plateAngle, Math.PI / 2, 1e-12);
    }
  });

  it('the edge of the crown stands at the limit angle', () => {
    const random = seededRandom(17);
    for (let i = 0; i < 200; i++) {
      const bore = { diameter: 42 * mm, limitAngle: (35 + 15 * random()) * degree, tilt: 60 * random() * degree };
      const { polar, chord, arc } = knownValue(boreCrown(bore));
      if (bore.tilt >= bore.limitAngle) expect([polar, chord, arc]).toEqual([0, 0, 0]);
      else {
        expectNear(knownValue(localOverhang.evaluate({ polar, tilt: bore.tilt })), bore.limitAngle, 1e-6);
        expect(chord).toBeLessThanOrEqual(arc);
      }
    }
  });

  it('a steeper axis never widens the crown', () => {
    let before: BoreCrown = { polar: 9, chord: 9, arc: 9 };
    for (let tilt = 0; tilt <= 90; tilt += 1) {
      const now = knownValue(boreCrown({ diameter: 40 * mm, limitAngle: 45 * degree, tilt: tilt * degree }));
      expect(now.arc).toBeLessThanOrEqual(before.arc);
      before = now;
    }
    expect(before.arc).toBe(0);
    expect(boreCrown({ diameter: 0, limitAngle: 0.7, tilt: 0 })).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity' },
    });
  });
});

describe('limits as data', () => {
  const rows: readonly (readonly [string, PrintLimit])[] = [
    ...printMaterials.map((key) => [key, selfSupportingAngles[key]] as const),
    ...Object.entries(printFeatures),
    ...Object.entries(machiningStock),
    ...Object.entries(cuttingOff),
  ];
  it.each(rows)('%s starts inside its band and says where it comes from', (_key, { band, start, source }) => {
    expect(band[0]).toBeLessThanOrEqual(band[1]);
    expect(start).toBeGreaterThanOrEqual(band[0]);
    expect(start).toBeLessThanOrEqual(band[1]);
    expect(source.document).not.toBe('');
  });

  it('625 warns at 45, fails at 40, needs support below 30 degrees from the plate', () => {
    const { warn, fail, mandatory } = overhangSteps;
    expect([warn, fail, mandatory].map((a) => Math.round(a / degree))).toEqual([45, 40, 30]);
    expectNear(selfSupportingAngles['625'].start, warn, 1e-12);
    expectNear(selfSupportingAngles['625'].band[0], fail, 1e-12);
    expect(stressReliefShare[1]).toBeLessThan(1);
  });

  // ASME B31.1 and B31.3, from memory.
  it('bending practice', () => {
    expect(preBendWall.map(([, factor]) => factor)).toEqual([1.25, 1.14, 1.08, 1.06]);
    const ovality = bendOvality.evaluate({ largest: 46 * mm, smallest: 43 * mm, nominal: 44.5 * mm });
    expect(knownValue(ovality)).toBeLessThan(ovalityLimits.internalPressure);
    expect(knownValue(ovality)).toBeGreaterThan(ovalityLimits.externalPressure);
    expect(straightBetweenBends.clampDiameters).toEqual([1, 2]);
    expect(straightBetweenBendsSource.trust).toBe('practice');
  });
});

describe('builds', () => {
  const build = {
    partVolume: 60e-6,
    supportVolume: 12e-6,
    height: 0.18,
    layer: 0.04 * mm,
    recoatTime: 10,
    scanSpeed: 0.8,
    hatch: 0.1 * mm,
    efficiency: 0.7,
    overhead: 7200,
  };
  it('finer layers, a higher part or more metal take longer', () => {
    const at = (change: Partial<typeof build>) => knownValue(buildTime({ ...build, ...change })).total;
    const here = at({});
    expect(at({ layer: 0.02 * mm })).toBeGreaterThan(here);
    expect(at({ height: 0.2 })).toBeGreaterThan(here);
    expect(at({ supportVolume: 20e-6 })).toBeGreaterThan(here);
    expect(at({ efficiency: 1.4 })).toBeLessThan(here);
    for (const bad of [{ layer: 0 }, { height: Number.NaN }, { efficiency: 0 }, { hatch: 1 }])
      expect(buildTime({ ...build, ...bad })).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
    expect(energyDensity(1, build)).toMatchObject({ known: false });
    expect(energyDensity(200, { ...build, layer: 1 })).toMatchObject({ known: false });
  });

  it('a height a hair over whole layers is not one layer more', () => {
    expect(knownValue(layerCount.evaluate({ height: 0.3, layer: 0.1 * mm }))).toBe(3000);
    expect(knownValue(layerCount.evaluate({ height: 0.30001, layer: 0.1 * mm }))).toBe(3001);
  });

  it('powder and cost refuse what cannot be', () => {
    const bed = {
      bedLength: 0.25,
      bedWidth: 0.25,
      height: 0.01,
      solidVolume: 1e-3,
      density: 8440,
      packing: 0.58,
      dosing: 1.6,
    };
    expect(powderCharge(bed)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(powderCharge({ ...bed, packing: 0.9 })).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
    const job = { machineTime: 3600, hourlyRate: 100, solidVolume: 0, density: 8440, powderLoss: 1, powderPrice: 100 };
    expect(knownValue(printCost(job))).toEqual({ machine: 100, powder: 0, total: 100 });
    expect(printCost({ ...job, hourlyRate: -1 }).known).toBe(false);
  });

  it('stairs vanish on a vertical wall and grow with the layer', () => {
    const at = (layer: number, angle: number) =>
      knownValue(stairRoughness.evaluate({ layer, plateAngle: angle * degree }));
    expect(at(0.1 * mm, 90)).toBeLessThan(1e-18);
    expect(at(0.1 * mm, 45)).toBeGreaterThan(at(0.05 * mm, 45));
    expect(at(0.1 * mm, 30)).toBeGreaterThan(at(0.1 * mm, 60));
  });

  it('deviations: a constant has no spread, order does not matter, one value or NaN is refused', () => {
    const flat = knownValue(deviationSummary([2, 2, 2, 2]));
    expect([flat.mean, flat.spread, flat.low, flat.high, flat.largest, flat.count]).toEqual([2, 0, 2, 2, 2, 4]);
    const random = seededRandom(6);
    const values = Array.from({ length: 101 }, () => random() - 0.5);
    const [up, down] = [deviationSummary(values), deviationSummary([...values].reverse())].map(knownValue);
    expect(up?.median).toBe(down?.median);
    expectNear(up?.rootMeanSquare ?? Number.NaN, down?.rootMeanSquare ?? 0, 1e-12);
    expect(up?.median).toBe([...values].sort((a, b) => a - b)[50]);
    for (const bad of [[], [1], [1, Number.NaN], [1, Number.POSITIVE_INFINITY]])
      expect(deviationSummary(bad)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});
