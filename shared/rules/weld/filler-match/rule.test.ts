import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { fillerMatch } from './rule.ts';

const subject = 'j1';
const metals = (a: string, b: string) => ({ 'joints.j1.metalA': a, 'joints.j1.metalB': b });
/** Ranks jump by one, and the table compares with 1e-6 where the limit is 0. */
const oneRank = 1e6;
const filler = (rod: string) => ({ 'joints.j1.filler': rod });

ruleTable(
  fillerMatch,
  [
    {
      kind: 'pass',
      name: '625 to itself with the matching rod',
      subject,
      expect: 'pass',
      message: 'rods',
      says: 'First choice ERNiCrMo-3; others: none.',
      value: 0,
      limit: 1,
    },
    {
      kind: 'fail',
      name: '625 to stainless names the other rods',
      subject,
      spec: { ...metals('321', '625'), ...filler('ER347') },
      expect: 'fail',
      says: 'First choice ERNiCrMo-3; others: ERNiCr-3, ER309L.',
      value: 2,
    },
    {
      kind: 'fail',
      name: '625 with a stainless rod',
      subject,
      spec: filler('ER308L'),
      expect: 'fail',
      message: 'rods',
      value: 2,
    },
    {
      kind: 'fail',
      name: 'a rod outside the table',
      subject,
      spec: filler('other'),
      expect: 'fail',
      message: 'rods',
      value: 2,
    },
    {
      kind: 'fail',
      name: 'titanium to 625 is not to be welded',
      subject,
      spec: metals('625', 'ti-2'),
      expect: 'fail',
      message: 'never',
      value: 2,
    },
    {
      kind: 'boundary',
      name: 'an alternative rod cautions',
      subject,
      spec: metals('321', '625'),
      move: 'joints.j1.filler',
      as: (x) => (x < 0.5 ? 'ERNiCrMo-3' : 'ERNiCr-3'),
      inside: 0,
      outside: 1,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 0,
      tolerance: oneRank,
    },
    {
      kind: 'published',
      name: '321 to itself takes ER347, the niobium rod',
      subject,
      spec: { ...metals('321', '321'), ...filler('ER347') },
      expect: 'pass',
      value: 0,
      citation: 'public filler pages for stainless: niobium survives the arc, titanium does not',
    },
    {
      kind: 'inconsistent',
      name: 'a pair the table does not hold',
      subject,
      spec: metals('718', '310'),
      expect: 'unknown',
    },
  ],
  { without: { validity: 'metals and rods are choices: there is no range to leave' } },
);
