import { describe, expect, it } from 'vitest';
import { alloyKeys } from '../../shared/trade/data/alloys.ts';
import { alloyProperty, alloyPropertySource } from '../../shared/trade/strength/alloy-property.ts';
import { cantileverBendingStress } from '../../shared/trade/strength/cantilever-bending-stress.ts';
import { differentialGrowth } from '../../shared/trade/strength/differential-growth.ts';
import { freeGrowth } from '../../shared/trade/strength/free-growth.ts';
import { hoopStress } from '../../shared/trade/strength/hoop-stress.ts';
import { tubeSectionModulus } from '../../shared/trade/strength/tube-section-modulus.ts';
import { expectNear, knownValue } from './nearness.ts';

const C = 273.15;
const mm = 1e-3;

describe('alloy properties', () => {
  // Vectors 1.1 and 1.2: linear interpolation of a maker bulletin for alloy 625 (expansion as transcribed, modulus from memory).
  it.each([
    [500, 13.897297e-6, 180.962162e9],
    [700, 15.02973e-6, 165.843243e9],
  ])('625 at %d C', (celsius, expansion, modulus) => {
    expectNear(knownValue(alloyProperty('625', 'expansion', celsius + C)), expansion, 1e-3);
    expectNear(knownValue(alloyProperty('625', 'modulus', celsius + C)), modulus, 1e-3);
  });

  // Worked example 1.3, same table.
  it('625 at 800 C', () => {
    expectNear(knownValue(alloyProperty('625', 'expansion', 800 + C)), 15.48e-6, 1e-3);
    expectNear(knownValue(alloyProperty('625', 'modulus', 800 + C)), 155.88e9, 1e-3);
  });

  // Printed rows: EN 10028-7 (from memory), ASME II-D TM-1 group G, supplier data.
  it.each([
    ['304', 'yield', 400, 98e6],
    ['321', 'yield', 500, 119e6],
    ['304', 'modulus', 600, 151e9],
    ['321', 'modulus', 700, 140e9],
    ['304', 'expansion', 427, 18.1e-6],
    ['321', 'expansion', 760, 19.6e-6],
    ['625', 'yield', 871, 240e6],
    ['625', 'density', 400, 8440],
    ['304', 'density', 20, 8030],
    ['321', 'density', 20, 7920],
  ] as const)('%s %s at %d C is the printed row', (alloy, property, celsius, expected) => {
    expectNear(knownValue(alloyProperty(alloy, property, celsius + C)), expected, 1e-12);
  });

  it.each(alloyKeys)('%s: yield and modulus fall, expansion rises with temperature', (alloy) => {
    const series = (property: 'yield' | 'modulus' | 'expansion', to: number) =>
      Array.from({ length: 60 }, (_, i) => knownValue(alloyProperty(alloy, property, C + (to * i) / 59)));
    for (const property of ['yield', 'modulus'] as const) {
      const values = series(property, 650);
      expect(values).toEqual([...values].sort((a, b) => b - a));
    }
    const expansions = series('expansion', 871);
    expect(expansions).toEqual([...expansions].sort((a, b) => a - b));
  });

  it.each([
    ['304', 'yield', 651],
    ['321', 'yield', 651],
    ['625', 'yield', 983],
    ['625', 'expansion', 928],
    ['304', 'modulus', 701],
    ['321', 'expansion', -1],
    ['625', 'density', Number.NaN],
  ] as const)('%s %s at %d C is outside validity', (alloy, property, celsius) => {
    expect(alloyProperty(alloy, property, celsius + C)).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity', input: `${property} of alloy ${alloy}: temperature`, unit: 'temperature' },
    });
  });

  it('says how far each table can be trusted', () => {
    expect(alloyPropertySource('625', 'yield').trust).toBe('uncertain');
    expect(alloyPropertySource('625', 'expansion').trust).toBe('excerpt');
    for (const alloy of alloyKeys) expect(alloyPropertySource(alloy, 'modulus').document).not.toBe('');
  });
});

describe('pressure and bending', () => {
  // Vector 6.5, own arithmetic: tube 48.3 x 2 at 0.3 MPa; the exact thick-wall bore value is 3.478979 MPa.
  it('6.5 hoop stress', () => {
    const hoop = knownValue(hoopStress.evaluate({ pressure: 0.3e6, outsideDiameter: 48.3 * mm, wall: 2 * mm }));
    expectNear(hoop, 3.4725e6, 1e-3);
    expectNear(hoop, 3.478979e6, 3e-3);
  });

  // Bhandari, machine design textbook, example 22.1 (vector 6.1, thin cylinder on the bore): Di 251.5398, t 16.124346 mm, p 20, 390/2.5 MPa.
  it('6.1 thin cylinder: the mean-diameter form exceeds the bore form by t/Di', () => {
    const bore = 251.5398 * mm;
    const wall = 16.124346 * mm;
    const hoop = knownValue(hoopStress.evaluate({ pressure: 20e6, outsideDiameter: bore + 2 * wall, wall }));
    expectNear(hoop, (390e6 / 2.5) * (1 + wall / bore), 1e-5);
  });

  it('hoop stress refuses a thick tube', () => {
    const thick = hoopStress.evaluate({ pressure: 1e5, outsideDiameter: 40 * mm, wall: 4.01 * mm });
    expect(thick).toMatchObject({ known: false, why: { reason: 'outOfValidity', range: [0, 0.1] } });
  });

  // Vectors 6.9, 6.10, 6.12 and the section table, own arithmetic.
  it.each([
    [38.1, 1.65, 1650.556784],
    [42.4, 2, 2448.844207],
    [60.3, 2, 5167.958651],
    [48.3, 2, 3234],
    [44.45, 1.65, 2289],
  ])('section modulus of tube %d x %d', (outside, wall, expected) => {
    expectNear(
      knownValue(tubeSectionModulus.evaluate({ outsideDiameter: outside * mm, wall: wall * mm })),
      expected * 1e-9,
      3e-4,
    );
  });

  it('section modulus of a solid bar, and no tube with a wall past the axis', () => {
    expectNear(
      knownValue(tubeSectionModulus.evaluate({ outsideDiameter: 0.02, wall: 0.01 })),
      (Math.PI * 0.02 ** 3) / 32,
      1e-12,
    );
    expect(tubeSectionModulus.evaluate({ outsideDiameter: 0.02, wall: 0.0101 }).known).toBe(false);
  });

  // Vectors 6.13 and 6.14, own arithmetic: 8 kg at 200 mm on tube 48.3 x 2.
  it.each([
    [1, 4.851939],
    [5, 24.259695],
  ])('turbo on a tube at %d g', (dynamicFactor, expected) => {
    const sectionModulus = knownValue(tubeSectionModulus.evaluate({ outsideDiameter: 48.3 * mm, wall: 2 * mm }));
    const load = { dynamicFactor, mass: 8, arm: 0.2, sectionModulus, unsupportedShare: 1 };
    expectNear(knownValue(cantileverBendingStress.evaluate(load)), expected * 1e6, 1e-3);
    expectNear(
      knownValue(cantileverBendingStress.evaluate({ ...load, unsupportedShare: 0.25 })),
      expected * 0.25e6,
      1e-3,
    );
  });
});

describe('growth', () => {
  // Vectors 5.1 to 5.3, own arithmetic: flange 450 C on aluminium head 110 C, span 400 mm, from 20 C.
  it.each([
    ['304', 1.81e-5, 3.1132, 2.3032, 1.1516],
    ['625', 1.38e-5, 2.3736, 1.5636, 0.7818],
    ['mild steel', 1.4e-5, 2.408, 1.598, 0.799],
  ])('%s flange', (_name, flangeExpansion, flange, difference, perEnd) => {
    const at = (distance: number) =>
      knownValue(
        differentialGrowth.evaluate({
          flangeExpansion,
          flangeTemperature: 450 + C,
          headExpansion: 2.25e-5,
          headTemperature: 110 + C,
          distance,
          referenceTemperature: 20 + C,
        }),
      );
    expectNear(at(0.4), difference * mm, 2e-3);
    expectNear(at(0.2), perEnd * mm, 2e-3);
    const grown = (expansion: number, celsius: number) =>
      knownValue(
        freeGrowth.evaluate({ expansion, length: 0.4, temperature: celsius + C, referenceTemperature: 20 + C }),
      );
    expectNear(grown(flangeExpansion, 450), flange * mm, 2e-3);
    expectNear(grown(2.25e-5, 110), 0.81 * mm, 2e-3);
  });

  // Heat soak: at an equal 110 C the aluminium head outgrows a 304 flange (17.2 um/m/K) by 0.19 to 0.21 mm over 400 mm.
  it('heat soak has the other sign', () => {
    const soak = knownValue(
      differentialGrowth.evaluate({
        flangeExpansion: 16.7e-6,
        flangeTemperature: 110 + C,
        headExpansion: 2.25e-5,
        headTemperature: 110 + C,
        distance: 0.4,
        referenceTemperature: 20 + C,
      }),
    );
    expectNear(soak, -0.21 * mm, 0.02);
  });

  // Vector 5.5, university course note: strain 0.00084 printed.
  it('5.5 free end of a 2 m bar', () => {
    expectNear(
      knownValue(
        freeGrowth.evaluate({ expansion: 1.2e-5, length: 2, temperature: 353.15, referenceTemperature: 283.15 }),
      ),
      1.68 * mm,
      1e-6,
    );
  });

  // Bhandari example 4.22: printed free growth 0.486 mm.
  it('Bhandari tube', () => {
    expectNear(
      knownValue(
        freeGrowth.evaluate({ expansion: 10.8e-6, length: 0.2, temperature: 523.15, referenceTemperature: 298.15 }),
      ),
      0.486 * mm,
      1e-6,
    );
  });

  // Vector 5.9, own arithmetic: slip joint 48.3 mm in 625, male 850 C and female 600 C.
  it('5.9 slip joint halves', () => {
    const male = knownValue(
      freeGrowth.evaluate({
        expansion: 1.57e-5,
        length: 48.3 * mm,
        temperature: 850 + C,
        referenceTemperature: 20 + C,
      }),
    );
    const female = knownValue(
      freeGrowth.evaluate({
        expansion: 1.44e-5,
        length: 48.3 * mm,
        temperature: 600 + C,
        referenceTemperature: 20 + C,
      }),
    );
    expectNear(male, 0.629397 * mm, 2e-3);
    expectNear(female, 0.403402 * mm, 2e-3);
    expectNear(male - female, 0.225996 * mm, 2e-3);
  });
});
