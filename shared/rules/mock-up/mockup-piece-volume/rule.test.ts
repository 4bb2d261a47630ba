import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { mockupPieceVolume } from './rule.ts';

const subject = 'm1';
const size = (length: number, width: number, height: number) => ({
  'mockUpPieces.m1.length': length,
  'mockUpPieces.m1.width': width,
  'mockUpPieces.m1.height': height,
});

ruleTable(
  mockupPieceVolume,
  [
    {
      kind: 'pass',
      name: 'a piece smaller every way passes',
      subject,
      expect: 'pass',
      message: 'space',
      value: 0.03,
      limit: 0,
      tolerance: 1e-9,
    },
    {
      kind: 'pass',
      name: 'a long piece stands up',
      subject,
      spec: size(0.24, 0.1, 0.1),
      expect: 'pass',
      value: 0.01,
      tolerance: 1e-9,
    },
    {
      kind: 'fail',
      name: 'two long sides do not fit the plate',
      subject,
      spec: size(0.24, 0.22, 0.1),
      expect: 'fail',
      message: 'space',
      value: -0.01,
      tolerance: 1e-9,
    },
    {
      kind: 'fail',
      name: 'the rim counts on both sides',
      subject,
      spec: { 'mockUpPrinter.rim': 0.06 },
      expect: 'fail',
      message: 'space',
    },
    {
      kind: 'boundary',
      name: 'as long as the space is high',
      subject,
      move: 'mockUpPieces.m1.length',
      inside: 0.2,
      outside: 0.4,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0,
      at: 0.25,
      tolerance: 1e-9,
    },
    {
      kind: 'published',
      name: 'a cube of 200 mm in 220 x 220 x 250 with a rim of 5 mm',
      subject,
      spec: size(0.2, 0.2, 0.2),
      expect: 'pass',
      value: 0.01,
      tolerance: 1e-9,
      citation: 'own arithmetic: 220 - 2 x 5 - 200 = 10 mm on the plate',
    },
  ],
  { without: { validity: 'a box of any size can be held against a space of any size' } },
);
