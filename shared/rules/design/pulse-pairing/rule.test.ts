import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { pulsePairing } from './rule.ts';

const subject = 'header';
const degree = Math.PI / 180;

/** An engine with one runner a cylinder; `entries` gives the turbine entry of cylinder 1, 2, 3... */
function engine(order: string, intervals: string, entries: readonly number[]): Record<string, unknown> {
  const out: Record<string, unknown> = { 'engine.firingOrder': order, 'engine.firingIntervals': intervals };
  for (const [i, entry] of entries.entries()) {
    out[`runners.r${i + 1}`] = i + 1;
    out[`runners.r${i + 1}.cylinder`] = i + 1;
    out[`runners.r${i + 1}.entry`] = entry;
  }
  return out;
}

const four = '180-180-180-180';
const eight = '90-90-90-90-90-90-90-90';

ruleTable(
  pulsePairing,
  [
    {
      kind: 'pass',
      name: 'a cylinder for each entry passes',
      subject,
      expect: 'pass',
      message: 'split',
      value: 720 * degree,
      limit: 240 * degree,
    },
    {
      kind: 'fail',
      name: 'four in line with neighbours in the firing order on one entry',
      subject,
      spec: engine('1-3-4-2', four, [1, 2, 1, 2]),
      expect: 'fail',
      message: 'split',
      value: 180 * degree,
      limit: 240 * degree,
    },
    {
      kind: 'boundary',
      name: 'whole degrees either side of 240',
      subject,
      spec: engine('1-2-3', '', [1, 1, 2]),
      move: 'engine.firingIntervals',
      // To the nearest whole degree the best pair elsewhere keeps 240 or more: the limit stays.
      as: (x) => `${Math.round(x)}-240-${480 - Math.round(x)}`,
      inside: 240,
      outside: 200,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 240 * degree,
      tolerance: 5e-3,
      at: 239.5,
    },
    {
      kind: 'published',
      name: 'four in line as 1+4 and 2+3: 360 deg',
      subject,
      spec: engine('1-3-4-2', four, [1, 2, 2, 1]),
      expect: 'pass',
      value: 360 * degree,
      citation: 'turbocharger trade pages: cylinders 1 and 4, 2 and 3 share an entry',
    },
    {
      kind: 'published',
      name: 'six in line as 1+2+3 and 4+5+6: 240 deg, the ideal',
      subject,
      spec: engine('1-5-3-6-2-4', '120-120-120-120-120-120', [1, 1, 1, 2, 2, 2]),
      expect: 'pass',
      value: 240 * degree,
      citation: 'pulse turbocharging text: three cylinders an entry; own enumeration',
    },
    {
      kind: 'published',
      name: 'five in line: 144 deg is the best there is',
      subject,
      spec: engine('1-2-4-5-3', '144-144-144-144-144', [1, 2, 2, 1, 2]),
      expect: 'pass',
      value: 144 * degree,
      citation: 'own enumeration: 1+4 and 2+3+5 keep 288 and 144 deg',
    },
    {
      kind: 'published',
      name: 'a cross-plane eight by banks: 90 where 180 deg can be had',
      subject,
      spec: engine('1-8-4-3-6-5-7-2', eight, [1, 2, 1, 2, 1, 2, 1, 2]),
      expect: 'fail',
      value: 90 * degree,
      citation: 'own enumeration: 1+4+6+7 and 2+3+5+8 keep 180 deg',
    },
    {
      kind: 'pass',
      name: 'one bank of a cross-plane eight has gaps of its own',
      subject,
      spec: {
        'engine.firingOrder': '1-8-4-3-6-5-7-2',
        'engine.firingIntervals': eight,
        'runners.r2.cylinder': 3,
      },
      expect: 'pass',
      value: 720 * degree,
    },
    {
      kind: 'inconsistent',
      name: 'intervals that do not add up to two turns',
      subject,
      spec: { 'engine.firingIntervals': '360-300' },
      expect: 'unknown',
    },
    {
      kind: 'inconsistent',
      name: 'an entry that no runner feeds',
      subject,
      spec: { 'runners.r2.entry': 1 },
      expect: 'unknown',
      path: 'runners.r2.entry',
    },
    {
      kind: 'inconsistent',
      name: 'two runners on one cylinder',
      subject,
      spec: { 'runners.r2.cylinder': 1 },
      expect: 'unknown',
      path: 'runners.r2.cylinder',
    },
  ],
  { without: { validity: 'orders and intervals that do not fit an engine are inconsistent, not out of range' } },
);
