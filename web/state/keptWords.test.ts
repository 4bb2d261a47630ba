import { expect, it } from 'vitest';
import type { ScanView } from '../../shared/protocol/http.ts';
import { keptWords } from './keptWords.ts';

const scan: ScanView = {
  ...{ id: 's', sha256: 'a'.repeat(64), name: 'bay.ply', bytes: 60_000_150, points: 5_000_000, unit: 'mm' },
  ...{ format: 'ply-binary-le', bounds: { min: [0, 0, 0], max: [1.2, 0.8, 0.6] }, spacing: null },
  ...{ unplaced: 12_345, uploadedBy: 'a', createdAt: '2026-11-26T00:00:00.000Z' },
};

it('says how many points were read, and how many had no place', () => {
  expect(keptWords({ scan, known: false }, false)).toBe(
    '5,000,000 points read from bay.ply (PLY, binary), 12,345 without a place left out, 1200.00 mm x 800.00 mm x 600.00 mm. It is in the bay and being measured.',
  );
});

it('says nothing of points without a place where there are none, or none were counted', () => {
  const { unplaced: _, ...older } = scan;
  for (const one of [{ ...scan, unplaced: 0 }, { ...scan, unplaced: null }, older])
    expect(keptWords({ scan: one, known: false }, false)).toMatch(
      /^5,000,000 points read from bay\.ply \(PLY, binary\), 1200/,
    );
});

it('says that a file was here already, and what it is compared with', () => {
  expect(keptWords({ scan, known: true }, true)).toMatch(
    /\. The same file was here already\. It is kept with the printed piece and being compared with its part\.$/,
  );
});
