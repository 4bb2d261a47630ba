import { describe, expect, it } from 'vitest';
import { parseQuantity } from './parse.ts';
import type { QuantityKey } from './quantities.ts';

/** Quantity, typed text, what the error has to say. Each of these could be read as some number by a hasty reader. */
const refused: readonly (readonly [QuantityKey, string, RegExp])[] = [
  ['length', '', /expected a length such as 12\.5 mm, got nothing/],
  ['length', '   ', /got nothing/],
  ['length', '\u00a0\t', /got nothing/],
  ['length', '1,234', /"1,234" can be read in two ways: expected 1\.234 or 1234/],
  ['length', '1,234 mm', /two ways/],
  ['length', '-1,234 mm', /two ways/],
  ['length', '12,500 mm', /expected 12\.500 or 12500/],
  ['length', '120,000', /two ways/],
  ['length', '1,234e3 mm', /two ways/],
  ['length', '1,234,5', /got ",5"/],
  ['length', '1.234,5', /got ",5"/],
  ['length', '1,234.5', /got "\.5"/],
  ['length', '1,234,567', /got ",567"/],
  ['length', '1.234.567', /got "\.567"/],
  ['length', '1 234 mm', /got "234 mm"/],
  ['length', '1\u00a0234', /got "234"/],
  ['length', "1'234", /got "'234"/],
  ['length', '1_000 mm', /got "_000 mm"/],
  ['length', '5 1', /got "1"/],
  ['ratio', '5 1', /got "1"/],
  ['share', '0.5 1', /got "1"/],
  ['concentration', '5 1', /got "1"/],
  ['length', '1/0 in', /finite/],
  ['length', '0/0 in', /finite/],
  ['length', '1 1/0 in', /fraction below one/],
  ['length', '1 9/8 in', /fraction below one.*9\/8/],
  ['length', '1 8/8 in', /fraction below one/],
  ['length', '1/2/3 in', /got "\/3 in"/],
  ['length', '1 1/2 1/2 in', /got "1\/2 in"/],
  ['length', '1.5/2 in', /got "\/2 in"/],
  ['length', '1 - 5/8 in', /got "- *5\/8 in"/],
  ['length', '1 -5/8 in', /got "-5\/8 in"/],
  ['length', '1\u00bd in', /got "\u00bd in"/],
  ['length', '\u00bd in', /expected a number/],
  ['length', '1e999 m', /finite/],
  ['length', '-1e999 m', /finite/],
  ['length', '1e-999 m', /lost as zero/],
  ['length', '1e-323 um', /lost as zero/],
  ['length', '5e', /got "e"/],
  ['length', '5e- m', /got "e-m"|got "e- m"/],
  ['length', '5e1.5 mm', /got "\.5 mm"/],
  ['length', '1e2e3', /got "e3"/],
  ['length', '5.', /got "\."/],
  ['length', '5..2', /got "\.\.2"/],
  ['length', '5,,2', /got ",,2"/],
  ['length', '--5', /expected a number/],
  ['length', '- 5', /expected a number/],
  ['length', '+-5', /expected a number/],
  ['length', '5-', /got "-"/],
  ['length', '5+', /got "\+"/],
  ['length', '5-6 mm', /got "-6 mm"/],
  ['length', '5..6 mm', /got/],
  ['length', '5 x 6 mm', /got "x 6 mm"/],
  ['length', '5*6', /got "\*6"/],
  ['length', 'mm', /expected a number/],
  ['length', 'mm 5', /expected a number/],
  ['length', '"', /expected a number/],
  ['length', 'abc', /expected a number such as 12\.5 mm, got "abc"/],
  ['length', '\u00d85', /expected a number/],
  ['length', '~5 mm', /expected a number/],
  ['length', '<5 mm', /expected a number/],
  ['length', '\u00b15 mm', /expected a number/],
  ['length', '5 \u00b1 0.1 mm', /got/],
  ['length', 'NaN', /expected a number/],
  ['length', 'Infinity', /expected a number/],
  ['length', '-Infinity mm', /expected a number/],
  ['length', '0x10', /got "x10"/],
  ['length', '0b11', /got "b11"/],
  ['length', '\uff15 mm', /expected a number/],
  ['length', '\u0665 mm', /expected a number/],
  ['length', '5 furlong', /expected a length in m, mm, cm, in, ft, thou, um, got "furlong"/],
  ['length', '5 mm mm', /got "mm mm"/],
  ['length', '5 mm in', /got "mm in"/],
  ['length', '5 m m', /got "m m"/],
  ['length', '5 mm 3 mm', /got "mm 3 mm"/],
  ['length', '5\'6"', /got/],
  ['length', '5 ft 6 in', /got "ft 6 in"/],
  ['length', '5 mm or so', /got "mm or so"/],
  ['length', '5 mm.', /got "mm\."/],
  ['length', '5 Mm', /got "Mm"/],
  ['length', '5 psi', /got "psi"/],
  ['length', '5 kg', /got "kg"/],
  ['length', '5 mm2', /got "mm2"/],
  ['length', '5 \u00b0', /got "\u00b0"/],
  ['length', '5\u2033\u2033', /got/],
  ['area', '5 Mm2', /got "Mm2"/],
  ['volume', '5 ML/', /got/],
  ['volume', '5 Ml', /got "Ml"/],
  ['velocity', '5 Mm/min', /got "Mm\/min"/],
  ['stress', '250 mPa', /expected a stress in Pa, MPa, GPa, ksi, got "mPa"/],
  ['pressure', '250 mPa', /got "mPa"/],
  ['pressure', '30 psig', /pressure \(absolute\).*got "psig"/],
  ['pressure', '2 barg', /got "barg"/],
  ['temperature', '700 \u00b0', /got "\u00b0"/],
  ['temperature', '700 deg', /got "deg"/],
  ['temperature', '700 R', /got "R"/],
  ['time', '1:30', /got ":30"/],
  ['time', '5 m', /got "m"/],
  ['time', '2 h 30 min', /got "h 30 min"/],
  ['rotation', '/min', /expected a number/],
  ['rotation', '6000 /min', /got "\/min"/],
  ['angle', "45\u00b030'", /got/],
  ['angle', '45 degC', /got "degC"/],
  ['mass', '6 tonnes', /got "tonnes"/],
  ['torque', '25 N', /got "N"/],
  ['ratio', '5 %', /expected a ratio in no unit, got "%"/],
  ['count', '4 pcs', /got "pcs"/],
  ['ratio', '', /such as 1\.5, got nothing/],
];

const failsFor = (quantity: QuantityKey, text: string): string => {
  const parsed = parseQuantity(quantity, text);
  return parsed.ok ? `read as ${parsed.si} (${parsed.unit})` : parsed.error;
};

describe('parseQuantity refuses', () => {
  it.each(refused)('%s %j', (quantity, text, error) => {
    expect(failsFor(quantity, text)).toMatch(error);
  });

  it('overflow by the conversion alone is refused too', () => {
    expect(parseQuantity('expansion', '1e308').ok).toBe(true);
    expect(failsFor('heatPerLength', '1e308 kJ/mm')).toMatch(/finite heat input/);
  });

  it('keeps errors short however long the text is', () => {
    expect(failsFor('length', 'x'.repeat(1e5)).length).toBeLessThan(200);
    expect(failsFor('length', `5 ${'x'.repeat(1e5)}`).length).toBeLessThan(200);
    expect(failsFor('length', `0.${'0'.repeat(1e5)}1`).length).toBeLessThan(200);
    expect(failsFor('length', `1 ${'9'.repeat(1e5)}/8`).length).toBeLessThan(200);
    expect(failsFor('length', `1,234e${'9'.repeat(1e5)}`).length).toBeLessThan(200);
    expect(failsFor('length', '9'.repeat(1e5)).length).toBeLessThan(200);
    expect(failsFor('length', `9,${'9'.repeat(1e5)},9`).length).toBeLessThan(200);
  });
});
