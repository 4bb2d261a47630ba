import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { purgeTime } from './rule.ts';

const subject = 'p1';
/** 4 L at 15 L/min from air to 100 ppm with gas of 7 ppm, dead-leg factor 1.5. */
const needed = ((1.5 * 4) / 15) * 60 * Math.log((209000 - 7) / (100 - 7));

ruleTable(
  purgeTime,
  [
    {
      kind: 'pass',
      name: 'five minutes are plenty',
      subject,
      expect: 'pass',
      message: 'turnovers',
      says: 'The stated time passes 18.750 volumes of gas; one volume takes 16 s.',
      value: needed,
      tolerance: 1e-9,
      limit: 300,
    },
    {
      kind: 'fail',
      name: 'one minute is not enough',
      subject,
      spec: { 'purges.p1.prePurge': 60 },
      expect: 'fail',
      message: 'turnovers',
    },
    {
      kind: 'boundary',
      name: 'the stated time is just enough',
      subject,
      move: 'purges.p1.prePurge',
      inside: 300,
      outside: 10,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: needed,
      at: needed,
    },
    {
      kind: 'published',
      name: '2 L at 8 L/min to 100 ppm: 114.67 s',
      subject,
      spec: {
        'purges.p1.volume': 2e-3,
        'purges.p1.flow': 8e-3 / 60,
        'purges.p1.residual': 0,
        'purges.p1.deadLegFactor': 1,
      },
      expect: 'pass',
      value: 114.674,
      tolerance: 1e-5,
      citation: 'own arithmetic, vector WE-15b',
    },
    {
      kind: 'inconsistent',
      name: 'a target the gas itself does not reach',
      subject,
      spec: { 'purges.p1.target': 5e-6 },
      expect: 'unknown',
    },
  ],
  { without: { validity: 'the bounds of the spec fields lie inside the range of the dilution balance' } },
);
