import { describe, expect, it } from 'vitest';
import { formulas } from '../../shared/trade/formulas.ts';
import { type QuantityKey, quantityRow } from '../../shared/units/quantities.ts';
import { runCommand } from './cli.fixture.ts';

/** The SI unit as it is typed; a number alone would be read in the display unit. */
const si = (quantity: QuantityKey): string => {
  const [{ symbol, also }] = quantityRow(quantity).units;
  return symbol === '1' ? (also?.[0] ?? '') : symbol;
};

describe('calc', () => {
  it.each(formulas.map((formula) => [formula.id, formula] as const))(
    '%s computes its first example from text',
    async (id, formula) => {
      const [example] = formula.examples;
      const words = Object.entries(formula.inputs).map(
        ([name, { quantity }]) => `${name}=${example.inputs[name]} ${si(quantity)}`,
      );
      const text = await runCommand('calc', id, ...words);
      expect(text).toMatchObject({ code: 0, errors: '' });
      expect(text.out).toContain(`${id} = `);
      expect(text.out).toContain(formula.source.document);
      const json = await runCommand('calc', id, '--json', ...words);
      const { value, unit, inputs } = JSON.parse(json.out);
      expect(json.code).toBe(0);
      expect(unit).toBe(quantityRow(formula.output.quantity).units[0].symbol);
      expect(Math.abs(value - example.expected)).toBeLessThanOrEqual(example.tolerance * Math.abs(example.expected));
      expect(inputs).toEqual(example.inputs);
    },
  );

  it('lists every formula with its inputs', async () => {
    const { code, out } = await runCommand('calc');
    expect(code).toBe(0);
    for (const formula of formulas) {
      expect(out).toContain(`${formula.id}\n  ${formula.title}\n`);
      for (const name of Object.keys(formula.inputs)) expect(out).toContain(`${name}=<`);
    }
  });

  it('takes what is left out from the formula when it says so', async () => {
    const short = await runCommand('calc', 'purge-time', 'volume=2L', 'flow=8L/min', 'target=50ppm');
    expect(short.code).toBe(0);
    const whole = await runCommand(
      'calc',
      'purge-time',
      'volume=2L',
      'flow=8L/min',
      'target=50ppm',
      'residual=10ppm',
      'initial=20.9%',
      'deadLegFactor=1',
    );
    expect(short.out.split('\n')[0]).toBe(whole.out.split('\n')[0]);
  });

  it.each<[string, readonly string[], number, RegExp]>([
    ['no such formula', ['purge'], 1, /expected one of air-conductivity, .*, got "purge"/],
    ['a name of every object', ['toString'], 1, /expected one of/],
    ['an input left out', ['bend-tightness', 'radius=64mm'], 1, /bend-tightness: expected outsideDiameter=<length>/],
    [
      'an input it does not have',
      ['bend-tightness', 'bore=3mm'],
      1,
      /expected name=value with one of radius, outsideDiameter, got "bore=3mm"/,
    ],
    ['an inherited name', ['bend-tightness', 'constructor=3mm'], 1, /got "constructor=3mm"/],
    ['a word that is no pair', ['bend-tightness', '64mm'], 1, /expected name=value .*, got "64mm"/],
    ['an input twice', ['bend-tightness', 'radius=1mm', 'radius=2mm'], 1, /radius: expected one value, got two/],
    [
      'a unit of another quantity',
      ['bend-tightness', 'radius=64 K', 'outsideDiameter=40'],
      1,
      /radius: expected a length in m, mm, .* got "K"/,
    ],
    [
      'no number',
      ['bend-tightness', 'radius=wide', 'outsideDiameter=40'],
      1,
      /radius: expected a number such as 12.5 mm, got "wide"/,
    ],
    ['nothing', ['bend-tightness', 'radius=', 'outsideDiameter=40'], 1, /radius: expected a length .*, got nothing/],
    [
      'a value outside validity',
      ['bend-tightness', 'radius=900 m', 'outsideDiameter=40'],
      2,
      /outside validity: bend-tightness: radius is 900, the formula holds from/,
    ],
  ])('says what is wrong with %s', async (_, words, code, message) => {
    const ran = await runCommand('calc', ...words);
    expect(ran.code).toBe(code);
    expect(ran.errors).toMatch(message);
    expect(ran.out).toBe('');
  });

  it('gives the reason as JSON when it is asked for JSON', async () => {
    const { code, out } = await runCommand('calc', '--json', 'bend-tightness', 'radius=900 m', 'outsideDiameter=40');
    expect(code).toBe(2);
    expect(JSON.parse(out)).toMatchObject({
      formula: 'bend-tightness',
      unknown: { reason: 'outOfValidity', value: 900 },
    });
  });
});
