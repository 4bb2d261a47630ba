import { describe, expect, it } from 'vitest';
import { readSpec } from '../spec/reader.ts';
import type { OwnMaterial } from '../spec/spec.ts';
import { known } from '../units/known.ts';
import { ownMaterialProperty, ownRuptureStress } from './ownMaterial.ts';

type Cells = Readonly<Record<string, unknown>>;

function material(table: 'points' | 'ruptures', rows: readonly Cells[], more: Cells = {}): OwnMaterial {
  const entries = new Map<string, unknown>([
    ['materials.m', 1],
    ['materials.m.name', 'Lot 7'],
  ]);
  for (const [key, value] of Object.entries(more)) entries.set(`materials.m.${key}`, value);
  for (const [i, row] of rows.entries()) {
    entries.set(`materials.m.${table}.r${i}`, -i);
    for (const [key, value] of Object.entries(row)) entries.set(`materials.m.${table}.r${i}.${key}`, value);
  }
  const [row] = readSpec(entries).materials;
  if (!row) throw new Error('no material');
  return row;
}

const table = material('points', [
  { temperature: 800, yield: 300e6, modulus: 180e9 },
  { temperature: 300, yield: 400e6 },
  { temperature: 900, modulus: 170e9 },
  { temperature: 500, conductivity: 15 },
]);

describe('a property by temperature', () => {
  it.each([
    ['yield', 300, 400e6],
    ['yield', 800, 300e6],
    ['yield', 550, 350e6],
    ['modulus', 850, 175e9],
    ['conductivity', 500, 15],
  ] as const)('%s at %d K is %d, in whatever order the rows stand', (property, temperature, value) => {
    expect(ownMaterialProperty(table, property, temperature)).toEqual(known(value));
  });

  it.each([
    ['yield', 299.9, [300, 800]],
    ['yield', 800.1, [300, 800]],
    ['modulus', 300, [800, 900]],
    ['conductivity', 501, [500, 500]],
    ['yield', Number.NaN, [300, 800]],
  ] as const)('%s at %d K is outside validity, never carried on', (property, value, range) => {
    expect(ownMaterialProperty(table, property, value)).toEqual({
      known: false,
      why: { reason: 'outOfValidity', input: `${property} of Lot 7: temperature`, value, range, unit: 'temperature' },
    });
  });

  it.each([
    ['no row', [], 'materials.m.points.first.yield'],
    ['no cell in any row', [{ temperature: 300 }], 'materials.m.points.r0.yield'],
    [
      'no temperature beside it',
      [{ yield: 4e8 }, { temperature: 300, yield: 4e8 }],
      'materials.m.points.r0.temperature',
    ],
    ['a temperature that is none', [{ temperature: 'hot', yield: 4e8 }], 'materials.m.points.r0.temperature'],
  ])('with %s it is missing', (_, rows, path) => {
    expect(ownMaterialProperty(material('points', rows), 'yield', 300)).toEqual({
      known: false,
      why: { reason: 'missing', paths: [path] },
    });
  });

  it('given twice at one temperature it is inconsistent, and names both', () => {
    const twice = material('points', [
      { temperature: 300, yield: 4e8 },
      { temperature: 300, yield: 3e8 },
    ]);
    expect(ownMaterialProperty(twice, 'yield', 300)).toMatchObject({
      why: {
        reason: 'inconsistent',
        paths: ['materials.m.points.r1.temperature', 'materials.m.points.r0.temperature'],
      },
    });
  });

  it('density is one figure at any temperature', () => {
    expect(ownMaterialProperty(material('points', [], { density: 8190 }), 'density', 1200)).toEqual(known(8190));
    expect(ownMaterialProperty(table, 'density', 300)).toMatchObject({ why: { paths: ['materials.m.density'] } });
  });
});

describe('rupture', () => {
  // Larson-Miller, C = 20: 1000 K and 1000 h is 23000; 1000 K and 10 h is 21000.
  const hours = 3600;
  const bar = material('ruptures', [
    { temperature: 1000, life: 1000 * hours, stress: 50e6 },
    { temperature: 1000, life: 10 * hours, stress: 200e6 },
  ]);

  it('is a straight line of log stress over the parameter', () => {
    const at = (h: number) => ownRuptureStress(bar, { temperature: 1000, life: h * hours });
    expect(at(100)).toMatchObject({ known: true });
    for (const [h, stress] of [
      [1000, 50e6],
      [100, 100e6],
      [10, 200e6],
    ] as const) {
      const found = at(h);
      expect(found.known && found.value / stress).toBeCloseTo(1, 9);
    }
  });

  it.each([
    ['shorter than the first', bar, 9 * hours, 'outOfValidity'],
    ['longer than the last', bar, 1001 * hours, 'outOfValidity'],
    ['none stated', material('ruptures', []), 100 * hours, 'missing'],
    ['half of one', material('ruptures', [{ temperature: 1000, life: hours }]), hours, 'missing'],
    [
      'stronger when longer',
      material('ruptures', [
        { temperature: 1000, life: 10 * hours, stress: 50e6 },
        { temperature: 1000, life: 1000 * hours, stress: 60e6 },
      ]),
      100 * hours,
      'inconsistent',
    ],
    [
      'the same twice',
      material('ruptures', [
        { temperature: 1000, life: 10 * hours, stress: 60e6 },
        { temperature: 1000, life: 10 * hours, stress: 50e6 },
      ]),
      10 * hours,
      'inconsistent',
    ],
  ])('%s is unknown', (_, row, life, reason) => {
    expect(ownRuptureStress(row, { temperature: 1000, life })).toMatchObject({ known: false, why: { reason } });
  });
});
