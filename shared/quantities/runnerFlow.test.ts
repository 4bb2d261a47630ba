import { describe, expect, it } from 'vitest';
import { makeSpec } from '../../tests/support/baseSpec.ts';
import { pendingMeasurements } from '../../tests/support/measurements.ts';
import { workedPrimary } from '../../tests/support/workedPrimary.ts';
import type { Spec } from '../spec/spec.ts';
import type { Known } from '../units/known.ts';
import { type FactContext, MemoStore } from './context.ts';
import { exhaustGas } from './exhaustGas.ts';
import { runnerMach, runnerPressureLoss, runnerVelocity } from './runnerFlow.ts';
import { runnerBore, runnerOuterRadius } from './tube.ts';

const measured = pendingMeasurements;
const contextOf = (spec: Spec, memo = new MemoStore()): FactContext => ({ spec, measured, memo: memo.memo });

function value<T>(fact: Known<T>): T {
  if (!fact.known) throw new Error(JSON.stringify(fact.why));
  return fact.value;
}

function firstRunner(spec: Spec) {
  const [runner] = spec.runners;
  if (!runner) throw new Error('no runner');
  return runner;
}

describe('exhaust gas', () => {
  // Own, examples E-01 to E-03: 0.344526 kg/s, 0.80372 kg/m3, 693.67 m/s.
  it('follows the worked engine', () => {
    const gas = value(exhaustGas(contextOf(makeSpec(workedPrimary()))));
    expect(gas.massFlow).toBeCloseTo(0.344526, 6);
    expect(gas.density / 0.80372).toBeCloseTo(1, 4);
    expect(gas.soundSpeed / 693.67).toBeCloseTo(1, 4);
    expect(gas.viscosity).toBeGreaterThan(4.6e-5);
    expect(gas.viscosity).toBeLessThan(5e-5);
  });

  it('keeps its identity while nothing it reads changes', () => {
    const memo = new MemoStore();
    const before = exhaustGas(contextOf(makeSpec(), memo));
    expect(exhaustGas(contextOf(makeSpec({ 'engine.rock': 0.01, 'engine.firingOrder': '2-1' }), memo))).toBe(before);
    for (const path of [
      'displacement',
      'peakSpeed',
      'volumetricEfficiency',
      'manifoldPressure',
      'manifoldTemperature',
      'lambda',
      'stoichiometricAirFuel',
      'exhaustTemperature',
      'exhaustPressure',
    ]) {
      const spec = makeSpec({ [`engine.${path}`]: undefined });
      expect(exhaustGas(contextOf(spec, memo)), path).toEqual({
        known: false,
        why: { reason: 'missing', paths: [`engine.${path}`] },
      });
    }
  });
});

describe('runner flow', () => {
  // Own, example E-19: 81.568 m/s in a bore of 40.9 mm, 2176 Pa.
  it('follows the worked primary', () => {
    const spec = makeSpec(workedPrimary());
    const context = contextOf(spec);
    expect(value(runnerBore(context))).toBeCloseTo(0.0409, 12);
    expect(value(runnerOuterRadius(context))).toBeCloseTo(0.02205, 12);
    expect(value(runnerVelocity(context, firstRunner(spec))) / 81.568).toBeCloseTo(1, 3);
    expect(value(runnerMach(context, firstRunner(spec))) / (81.568 / 693.67)).toBeCloseTo(1, 3);
    const loss = value(runnerPressureLoss(context, firstRunner(spec)));
    expect(Math.abs(loss.total / 2176 - 1)).toBeLessThan(0.02);
    expect(loss.straight + loss.bends).toBeCloseTo(loss.total, 9);
  });

  it('keeps the loss while its runner and its gas stay, and renews it with either', () => {
    const memo = new MemoStore();
    const spec = makeSpec();
    const lossOf = (of: Spec) => runnerPressureLoss(contextOf(of, memo), firstRunner(of));
    const before = lossOf(spec);
    expect(lossOf({ ...spec, engine: { ...spec.engine } })).toBe(before);
    expect(lossOf(makeSpec({ 'engine.lambda': 0.9 }))).not.toEqual(before);
    expect(lossOf(makeSpec({ 'tube.roughness': 1e-4 }))).not.toEqual(before);
    expect(lossOf(makeSpec({ 'runners.r1.nodes.n2.radius': 0.07 }))).not.toEqual(before);
  });
});
