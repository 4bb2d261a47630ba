import { describe, expect, it } from 'vitest';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { pendingMeasurements } from '../../tests/support/measurements.ts';
import { readSpec } from '../spec/reader.ts';
import type { Spec } from '../spec/spec.ts';
import type { Known } from '../units/known.ts';
import { gapLeft } from './clearanceLeft.ts';
import { outletFlow } from './collectorFlow.ts';
import { type FactContext, MemoStore } from './context.ts';
import { angleBetween } from './direction.ts';
import { pulsePairing } from './pulsePairing.ts';
import { dateProblem } from './recordedDate.ts';
import { inletMiss } from './runnerEnds.ts';
import { testedLeak } from './testedLeak.ts';
import { wallEstimate } from './wallEstimate.ts';

const measured = pendingMeasurements;

function firstRunner(spec: Spec) {
  const [runner] = spec.runners;
  if (!runner) throw new Error('no runner');
  return runner;
}

/** Every memoised fact of a spec. */
function facts(context: FactContext): readonly Known<unknown>[] {
  const runner = firstRunner(context.spec);
  return [
    outletFlow(context, null),
    outletFlow(context, 1),
    pulsePairing(context),
    inletMiss(context, runner),
    wallEstimate(context, runner),
    testedLeak(context),
  ];
}

describe('facts of flow, ends, heat and leak', () => {
  it('are the same objects as long as what they read is the same', () => {
    const memo = new MemoStore();
    const spec = readSpec(baseEntries());
    const before = facts({ spec, measured, memo: memo.memo });
    const after = facts({ spec: { ...spec, project: { ...spec.project } }, measured, memo: memo.memo });
    for (const [i, fact] of before.entries()) {
      expect(fact.known).toBe(true);
      expect(after[i]).toBe(fact);
    }
  });

  it('one wall estimate does for all runners of one tube', () => {
    const memo = new MemoStore();
    const spec = readSpec(baseEntries());
    const context = { spec, measured, memo: memo.memo };
    const [first, second] = spec.runners.map((runner) => wallEstimate(context, runner));
    expect(second).toBe(first);
  });

  it('more pulses, hotter gas or a blacker skin move the wall the way they must', () => {
    const at = (overrides: Readonly<Record<string, unknown>>): number => {
      const spec = readSpec(baseEntries(overrides));
      const wall = wallEstimate({ spec, measured, memo: new MemoStore().memo }, firstRunner(spec));
      if (!wall.known) throw new Error(JSON.stringify(wall.why));
      return wall.value;
    };
    expect(at({ 'heat.pulsation': 2 })).toBeGreaterThan(at({ 'heat.pulsation': 1 }));
    expect(at({ 'engine.exhaustTemperature': 1250 })).toBeGreaterThan(at({}));
    expect(at({ 'heat.emissivity': 0.95 })).toBeLessThan(at({ 'heat.emissivity': 0.3 }));
    expect(at({ 'heat.surroundings': 293 })).toBeLessThan(at({ 'heat.surroundings': 400 }));
    expect(at({})).toBeLessThan(1173.15);
  });
});

describe('the gap that is left', () => {
  it('loses everything that can use it up, and the guard band', () => {
    const { left, guard } = gapLeft(0.05, { cover: 0.001, rock: 0.004, growth: 0.003, uncertainty: 0.002 });
    expect(guard).toBeCloseTo(0.0033, 15);
    expect(left).toBeCloseTo(0.05 - 0.001 - 0.004 - 0.003 - 0.0033, 15);
  });
});

describe('the angle between directions', () => {
  it.each([
    [[1, 0, 0], [2, 0, 0], 0],
    [[1, 0, 0], [0, 3, 0], Math.PI / 2],
    [[1, 0, 0], [-5, 0, 0], Math.PI],
    [[1, 0, 0], [1, 1e-9, 0], 1e-9],
  ] as const)('%j and %j', (a, b, angle) => {
    expect(Math.abs(angleBetween(a, b) - angle)).toBeLessThan(1e-15);
  });
});

describe('a recorded date', () => {
  it.each(['2026-03-01', '2028-02-29', '2000-02-29', '2026-12-31'])('%s is a day', (date) => {
    expect(dateProblem(date)).toBeNull();
  });
  it.each(['2026-02-29', '1900-02-29', '2026-11-31', '2026-1-1', '', '2026-03-01 '])('"%s" is none', (date) => {
    expect(dateProblem(date)).toContain(`got "${date}"`);
  });
});
