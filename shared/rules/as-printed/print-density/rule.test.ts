import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { printDensity } from './rule.ts';

const subject = 'w1';

ruleTable(
  printDensity,
  [
    {
      kind: 'pass',
      name: '99.8 % passes',
      subject,
      expect: 'pass',
      message: 'pores',
      value: 0.998,
      limit: 0.995,
    },
    {
      kind: 'fail',
      name: '98 % fails',
      subject,
      spec: { 'witnesses.w1.density': 0.98 },
      expect: 'fail',
      message: 'pores',
    },
    {
      kind: 'boundary',
      name: 'half a per cent of pores',
      subject,
      move: 'witnesses.w1.density',
      inside: 0.998,
      outside: 0.99,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.995,
      at: 0.995,
    },
    {
      kind: 'published',
      name: 'a witness weighed at 8.40 of 8.44 g/cm3 is 99.53 % dense',
      subject,
      spec: { 'witnesses.w1.density': 8.4 / 8.44 },
      expect: 'pass',
      value: 0.99526,
      tolerance: 1e-5,
      citation: 'own arithmetic with the density of 625, 8.44 g/cm3 (alloy data sheet)',
    },
  ],
  { without: { validity: 'any share up to 1 can be held against the limit, and the field ends at 1' } },
);
