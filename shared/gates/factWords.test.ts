import { describe, expect, it } from 'vitest';
import { readSpec } from '../spec/reader.ts';
import { factQuantity, factTitle, factWords } from './factWords.ts';

const spec = readSpec(
  new Map<string, unknown>([
    ['materials.lot7', 1],
    ['materials.lot7.name', 'Lot seven'],
    ['materials.lot7.points.a', 1],
    ['limits.runner-clearance', 1],
  ]),
);

describe('covered facts in words', () => {
  it.each([
    ['tube.wall', 0.002, 'Runner wall', '2.00 mm'],
    ['tube.alloy', '625', 'Runner alloy', '625'],
    ['tube.alloy', 'lot7', 'Runner alloy', 'Lot seven'],
    ['tube.alloy', 'gone', 'Runner alloy', 'gone'],
    [
      'limits.runner-clearance.least',
      0.006,
      'Require clearance between runners ahead of the merge: Least allowed in this job',
      '6.00 mm',
    ],
    [
      'limits.runner-length-spread.most',
      0.12,
      'Limit the spread of runner lengths: Most allowed in this job',
      '12.0 %',
    ],
    [
      'limits.runner-clearance.reason',
      'tight bay',
      'Require clearance between runners ahead of the merge: Reason for the limit',
      'tight bay',
    ],
    [
      'limits.runner-clearance.most',
      null,
      'Require clearance between runners ahead of the merge: Most allowed in this job',
      'empty',
    ],
    ['limits.no-such-rule.most', 0.5, 'Limit no-such-rule: Most allowed in this job', '0.5'],
    ['materials.lot7.points.a.yield', 3e8, 'Lot seven, row 1: Yield strength', '300.0 MPa'],
    ['materials.gone.density', undefined, 'Own material gone: Density of the material', 'not there'],
  ])('%s = %s', (path, value, title, words) => {
    expect([factTitle(path, spec), factWords(path, value, spec)]).toEqual([title, words]);
  });

  it.each([
    ['tube.wall', 'length'],
    ['limits.stud-preload.most', 'share'],
    ['limits.stud-preload.reason', null],
    ['limits.no-such-rule.most', null],
    ['engine.cylinders', null],
  ])('the quantity of %s is %s', (path, quantity) => {
    expect(factQuantity(path)).toBe(quantity);
  });
});
