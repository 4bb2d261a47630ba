import { describe, expect, it } from 'vitest';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { measuredAs } from '../../tests/support/measurements.ts';
import { createEngine } from '../rules/engine.ts';
import { rules } from '../rules/registry.ts';
import type { Verdict } from '../rules/verdict.ts';
import { verdictWords } from '../rules/words.ts';
import { readSpec } from '../spec/reader.ts';
import { alloyProperty } from '../trade/strength/alloy-property.ts';
import { known, unknown } from '../units/known.ts';
import { type FactContext, MemoStore } from './context.ts';
import { metalName, metalOf, metalProperty, serviceLimit, yieldSource } from './metal.ts';

type Content = Readonly<Record<string, unknown>>;

const measured = measuredAs({ point: [0, 0.3, 0], onTube: [0, 0.1, 0], s: 0.1 });
const contextOf = (content: Content): FactContext => ({
  spec: readSpec(baseEntries(content)),
  measured,
  memo: new MemoStore().memo,
});

/** An own material with the figures of the listed 625 at the temperatures of the base spec, so that only its name can differ. */
function copyOf625(id: string): Content {
  const from = (property: 'expansion' | 'modulus' | 'yield', kelvin: number) => {
    const value = alloyProperty('625', property, kelvin);
    if (!value.known) throw new Error(`no ${property} at ${kelvin} K`);
    return value.value;
  };
  const conductivity = alloyProperty('625', 'conductivity', 973.15);
  const out: Record<string, unknown> = {
    [`materials.${id}`]: 1,
    [`materials.${id}.name`]: 'Lot 7',
    [`materials.${id}.source`]: 'test report 12',
    [`materials.${id}.trust`]: 'own',
    [`materials.${id}.reason`]: 'printed here',
    [`materials.${id}.density`]: 8440,
    [`materials.${id}.serviceLimit`]: 1255.15,
    [`materials.${id}.ruptures.a.temperature`]: 923.15,
    [`materials.${id}.ruptures.a.life`]: 3.6e6,
    [`materials.${id}.ruptures.a.stress`]: 370e6,
    [`materials.${id}.ruptures.a`]: 1,
    [`materials.${id}.ruptures.b`]: 2,
    [`materials.${id}.ruptures.b.temperature`]: 1253.15,
    [`materials.${id}.ruptures.b.life`]: 3.6e6,
    [`materials.${id}.ruptures.b.stress`]: 20e6,
  };
  for (const [i, kelvin] of [373.15, 383.15, 573.15, 673.15, 873.15, 923.15, 973.15, 1100].entries()) {
    const row = `materials.${id}.points.p${i}`;
    out[row] = 10 - i;
    out[`${row}.temperature`] = kelvin;
    for (const property of ['expansion', 'modulus', 'yield'] as const)
      out[`${row}.${property}`] = from(property, kelvin);
    if (kelvin === 973.15 && conductivity.known) out[`${row}.conductivity`] = conductivity.value;
  }
  return out;
}

const ownTube = { ...copyOf625('lot7'), 'tube.alloy': 'lot7' };

function verdictsOf(content: Content): ReadonlyMap<string, Verdict> {
  const engine = createEngine({ rules, measured });
  engine.evaluate(readSpec(baseEntries(content)));
  return engine.verdicts();
}

const tubeRules = [
  'bay-clearance',
  'header-mass',
  'hoop-stress',
  'part-clearance',
  'runner-growth',
  'slip-joint-clearance',
  'turbo-bending',
  'turbo-frequency',
  'turbo-rupture',
  'wall-temperature',
];

describe('an own material', () => {
  it('is said by exactly the verdicts that used it, whatever they came to', () => {
    const resting = (content: Content) =>
      [...new Set([...verdictsOf(content).values()].filter((v) => v.grounds).map((v) => v.rule))].sort();
    expect(resting({})).toEqual([]);
    expect(resting(copyOf625('lot7'))).toEqual([]);
    expect(resting(ownTube)).toEqual(tubeRules);
    expect(resting({ ...copyOf625('lot7'), 'flange.alloy': 'lot7' })).toEqual([
      'flange-bow',
      'flange-growth',
      'runner-growth',
    ]);
  });

  it('is named with source and reason, on the verdict and in words', () => {
    const verdict = verdictsOf(ownTube).get('hoop-stress/r1');
    const rule = rules.find(({ id }) => id === 'hoop-stress');
    if (!verdict || !rule) throw new Error('no hoop stress');
    expect(verdict.grounds).toEqual([
      { path: 'materials.lot7', name: 'Lot 7', source: 'test report 12 (own derivation)', reason: 'printed here' },
    ]);
    expect(verdict).toMatchObject({ status: 'pass', limitNote: 'yield of Lot 7: test report 12 (own derivation)' });
    expect(verdictWords(verdict, rule).ownMaterial).toBe(
      'own material Lot 7: test report 12 (own derivation); used because: printed here',
    );
  });

  it('with the figures of a listed alloy comes to the same numbers', () => {
    const [listed, own] = [verdictsOf({}), verdictsOf(ownTube)];
    for (const rule of tubeRules.filter((id) => id !== 'turbo-rupture' && id !== 'bay-clearance')) {
      for (const [key, verdict] of listed) {
        if (verdict.rule !== rule) continue;
        const other = own.get(key);
        expect(other?.status, key).toBe(verdict.status);
        if (!other || !('measured' in verdict) || !('measured' in other)) throw new Error(`${key} is not judged`);
        expect(other.measured / verdict.measured, key).toBeCloseTo(1, 2);
      }
    }
  });

  it.each([
    ['no source', { 'materials.lot7.source': undefined }, 'missing', 'materials.lot7.source'],
    ['no trust', { 'materials.lot7.trust': 'gut feeling' }, 'missing', 'materials.lot7.trust'],
    ['no reason', { 'materials.lot7.reason': ' ' }, 'missing', 'materials.lot7.reason'],
    ['an id that is gone', { 'materials.lot7': undefined }, 'inconsistent', 'tube.alloy'],
    ['an id that never was', { 'tube.alloy': 'wood' }, 'inconsistent', 'tube.alloy'],
    ['an empty id', { 'tube.alloy': undefined }, 'missing', 'tube.alloy'],
    ['the id of a listed alloy', { ...copyOf625('625'), 'tube.alloy': '625' }, 'inconsistent', 'materials.625'],
  ])('with %s is unknown and never a pass', (_, content, reason, path) => {
    const context = contextOf({ ...ownTube, ...content });
    const metal = metalOf(context, 'tube');
    expect(metal).toMatchObject({ known: false, why: { reason } });
    expect(JSON.stringify(metal)).toContain(path);
    for (const fact of [
      metalProperty(context, 'tube', 'yield', known(900)),
      serviceLimit(context, 'tube'),
      metalName(context, 'tube'),
      yieldSource(context, 'tube'),
    ])
      expect(fact).toEqual(metal);
    const hit = [...verdictsOf({ ...ownTube, ...content }).values()].filter((v) => tubeRules.includes(v.rule));
    // Missing paths of the rule's own come first, so only the status is the same for all.
    expect(new Set(hit.map((v) => v.status))).toEqual(new Set(['unknown']));
  });

  it('lists what there is to choose from when an id is not there', () => {
    expect(metalOf(contextOf({ ...ownTube, 'tube.alloy': 'wood' }), 'tube')).toMatchObject({
      why: { detail: 'expected one of 304, 321, 625 or an own material of the job, got wood' },
    });
  });

  it('that changes is read again by what is kept, and only by what used it', () => {
    const engine = createEngine({ rules, measured });
    engine.evaluate(readSpec(baseEntries(ownTube)));
    const moved = { ...ownTube, 'materials.lot7.points.p6.yield': 300e6, 'materials.lot7.points.p6.expansion': 15e-6 };
    engine.evaluate(readSpec(baseEntries(moved)));
    const fresh = createEngine({ rules, measured });
    fresh.evaluate(readSpec(baseEntries(moved)));
    expect(engine.verdicts()).toEqual(fresh.verdicts());
    const renamed = { ...moved, 'materials.lot7.name': 'Lot 8' };
    engine.evaluate(readSpec(baseEntries(renamed)));
    for (const verdict of engine.verdicts().values())
      if (verdict.grounds) expect(verdict.grounds.map((g) => g.name)).toEqual(['Lot 8']);
  });
});

describe('a listed alloy', () => {
  it('has the figures of its table and rests on nothing of the job', () => {
    const context = contextOf(copyOf625('lot7'));
    expect(metalProperty(context, 'tube', 'yield', known(900))).toEqual(alloyProperty('625', 'yield', 900));
    expect(serviceLimit(context, 'tube')).toEqual(known(1255.15));
    expect(metalName(context, 'tube')).toEqual(known('625'));
    expect(metalProperty(context, 'flange', 'yield', unknown({ reason: 'missing', paths: ['t'] }))).toMatchObject({
      known: false,
      why: { paths: ['t'] },
    });
  });
});
