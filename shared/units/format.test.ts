import { describe, expect, it } from 'vitest';
import { findUnit, formatDifference, formatNumber, formatSi, fromSi, toSi } from './format.ts';
import { parseQuantity } from './parse.ts';
import { displayUnit, isQuantityKey, type QuantityKey, quantities, quantityRow } from './quantities.ts';

const keys = Object.keys(quantities).filter(isQuantityKey);

/** Mulberry32 (memory); shared/geometry has the same one, but units may import nothing. */
function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Factors as printed, from memory of NIST SP 811 appendix B.8 (seven digits; `exact` ones bold there): quantity, unit, factor. */
const sp811: readonly (readonly [QuantityKey, string, number, 'exact' | 'seven digits'])[] = [
  ['length', 'in', 2.54e-2, 'exact'],
  ['length', 'ft', 3.048e-1, 'exact'],
  ['length', 'mil', 2.54e-5, 'exact'],
  ['length', 'micron', 1e-6, 'exact'],
  ['angle', 'degree', 1.745329e-2, 'seven digits'],
  ['area', 'in2', 6.4516e-4, 'exact'],
  ['volume', 'in3', 1.638706e-5, 'seven digits'],
  ['volume', 'litre', 1e-3, 'exact'],
  ['mass', 'lb', 4.535924e-1, 'seven digits'],
  ['time', 'min', 60, 'exact'],
  ['time', 'h', 3600, 'exact'],
  ['pressure', 'psi', 6.894757e3, 'seven digits'],
  ['pressure', 'bar', 1e5, 'exact'],
  ['stress', 'ksi', 6.894757e6, 'seven digits'],
  ['force', 'lbf', 4.448222, 'seven digits'],
  ['torque', 'lbf.ft', 1.355818, 'seven digits'],
  ['torque', 'lbf.in', 1.129848e-1, 'seven digits'],
  ['massFlow', 'lb/min', 7.559873e-3, 'seven digits'],
  ['volumeFlow', 'L/min', 1.666667e-5, 'seven digits'],
  ['volumeFlow', 'ft3/h', 4.719474e-4 / 60, 'seven digits'],
  ['velocity', 'ft/s', 3.048e-1, 'exact'],
  ['velocity', 'in/min', 2.54e-2 / 60, 'exact'],
  ['power', 'hp', 7.456999e2, 'seven digits'],
  ['specificConsumption', 'lb/(hp.h)', 1.689659e-7, 'seven digits'],
];

describe('conversion factors', () => {
  it.each(sp811)('%s in %s is %d SI', (quantity, symbol, factor, exact) => {
    const unit = findUnit(quantity, symbol);
    if (!unit) throw new Error(`${quantity} has no unit ${symbol}`);
    const relative = Math.abs(unit.factor - factor) / factor;
    // Printed to seven digits: off by at most half a unit of the last.
    expect(relative).toBeLessThanOrEqual(exact === 'exact' ? 1e-15 : 5e-7);
  });

  it('derived factors follow from the exact inch, pound and standard gravity', () => {
    const gravity = 9.80665;
    const poundForce = 0.45359237 * gravity;
    expect(findUnit('force', 'lbf')?.factor).toBeCloseTo(poundForce, 14);
    expect(findUnit('pressure', 'psi')?.factor).toBeCloseTo(poundForce / 0.0254 ** 2, 9);
    expect(findUnit('torque', 'lbf.ft')?.factor).toBeCloseTo(poundForce * 0.3048, 14);
    expect(findUnit('torque', 'lbf.in')?.factor).toBeCloseTo(poundForce * 0.0254, 15);
    expect(findUnit('power', 'hp')?.factor).toBeCloseTo(550 * 0.3048 * poundForce, 10);
  });

  it.each([
    [32, 273.15],
    [212, 373.15],
    [-40, 233.15],
    [-459.67, 0],
  ])('%d F is %d K', (f, k) => {
    const unit = findUnit('temperature', 'F');
    if (!unit) throw new Error('no F');
    expect(toSi(f, unit)).toBeCloseTo(k, 10);
    expect(fromSi(k, unit)).toBeCloseTo(f, 10);
  });
});

describe('the table of quantities', () => {
  it.each(keys)('%s: SI first, a display unit, no spelling twice', (key) => {
    const { units, display } = quantityRow(key);
    expect(units[0].factor).toBe(1);
    expect(units[0].offset ?? 0).toBe(0);
    expect(units[display]).toBeDefined();
    const spellings = units.flatMap((u) => [u.symbol, ...(u.also ?? [])]);
    expect(new Set(spellings).size).toBe(spellings.length);
    for (const u of units) {
      expect(u.factor).toBeGreaterThan(0);
      expect(Number.isInteger(u.decimals) && u.decimals >= 0 && u.decimals <= 8).toBe(true);
    }
  });

  it.each(keys)('%s: every spelling finds its own unit, also in capitals or small letters', (key) => {
    for (const unit of quantityRow(key).units) {
      for (const spelling of [unit.symbol, ...(unit.also ?? [])]) {
        expect(findUnit(key, spelling)).toBe(unit);
        expect(findUnit(key, ` ${spelling} `)).toBe(unit);
        expect(findUnit(key, spelling.toLowerCase())).toBe(unit);
        if (spelling !== 'µm') expect(findUnit(key, spelling.toUpperCase())).toBe(unit);
      }
    }
  });

  it('knows no key that is only inherited', () => {
    expect(isQuantityKey('length')).toBe(true);
    expect(isQuantityKey('toString')).toBe(false);
  });
});

describe('format', () => {
  it.each([
    ['length', 0.04445, '44.45 mm'],
    ['length', -1e-9, '0.00 mm'],
    ['length', -0.001, '-1.00 mm'],
    ['temperature', 973.15, '700 C'],
    ['share', 0.5, '50.0 %'],
    ['ratio', 0.85, '0.850'],
    ['count', 4, '4'],
    ['rotation', 100, '6000 rpm'],
    ['volumeFlow', 0.00025, '15.0 L/min'],
    ['power', 300e3, '300.0 kW'],
    ['conductivity', 0.0846, '0.0846 W/(m.K)'],
    ['heatTransfer', 272, '272.0 W/(m2.K)'],
    ['heatFlux', 42910, '42.91 kW/m2'],
    ['leakRate', 0.020833, '0.02083 Pa.m3/s'],
    ['specificConsumption', 1e-7, '360 g/kWh'],
    ['length', Number.NaN, 'NaN mm'],
    ['length', Number.POSITIVE_INFINITY, 'Infinity mm'],
  ] as const)('%s %d shows as %s', (quantity, si, text) => {
    expect(formatSi(quantity, si)).toBe(text);
  });

  it('a difference of temperatures has no offset', () => {
    expect(formatDifference('temperature', 25)).toBe('25 C');
    expect(formatSi('temperature', 25)).toBe('-248 C');
  });

  it('seed 811: what is shown reads back within half of the last digit shown', () => {
    const random = seeded(811);
    for (const key of keys) {
      for (const unit of quantityRow(key).units) {
        for (let i = 0; i < 60; i++) {
          const si = toSi((random() - 0.5) * 10 ** (random() * 8 - 2), unit);
          const parsed = parseQuantity(key, formatSi(key, si, unit));
          // A number in the bare SI unit of a ratio has no unit to write; it reads back in the display unit.
          if (unit.symbol === '1' && displayUnit(key).symbol !== '1') continue;
          if (!parsed.ok) throw new Error(`${key} ${formatSi(key, si, unit)}: ${parsed.error}`);
          const half = 0.5 * 10 ** -unit.decimals * unit.factor;
          expect(Math.abs(parsed.si - si)).toBeLessThanOrEqual(half * (1 + 1e-6) + 1e-9 * Math.abs(si));
          expect(parsed.unit).toBe(unit.symbol);
        }
      }
    }
  });

  it('a number alone is in the display unit', () => {
    for (const key of keys) {
      const parsed = parseQuantity(key, formatNumber(key, toSi(12, displayUnit(key))));
      expect(parsed.ok && Math.abs(fromSi(parsed.si, displayUnit(key)) - 12)).toBeLessThan(1e-9);
    }
  });
});
