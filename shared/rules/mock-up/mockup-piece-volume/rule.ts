import type { Spec } from '../../../spec/spec.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Smallest spare, m, of a box in a space when either may be turned by right angles: longest goes with longest. */
function spareOf(size: readonly number[], space: readonly number[]): number {
  const sorted = (lengths: readonly number[]) => [...lengths].sort((a, b) => a - b);
  const [sizes, spaces] = [sorted(size), sorted(space)];
  return Math.min(...sizes.map((length, i) => (spaces[i] ?? Number.NaN) - length));
}

/** Each piece of the mock-up against the usable space of the plastic printer. */
export const mockupPieceVolume = defineRule({
  id: 'mockup-piece-volume',
  gate: 'mock-up',
  title: 'Require mock-up pieces that fit the printer',
  severity: 'block',
  adjustable: false,
  branches: ['mockUpPieces', 'mockUpPrinter'],
  cost: 'cheap',
  quantity: 'length',
  limit:
    'smallest spare of the printer space over the box of the piece >= 0, after the rim on both sides in the plane of the plate',
  source: { document: 'own: box in box, turned by right angles', trust: 'own' },
  validity:
    'Boxes along the axes of the piece; a piece turned askew may fit where this says no. The rim is on length and width only.',
  hazard:
    'A piece that does not fit is cut in a hurry: joints without dowels, and a mock-up that does not tell the truth.',
  remedy: 'Split the piece at a straight stretch and key the joint with two dowels.',
  messages: { space: 'Usable {x} x {y} x {z}.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'mockUpPieces'>[] =>
    spec.mockUpPieces.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: ({ spec: { mockUpPrinter } }, { row }) => ({
    length: at<number>(`mockUpPieces.${row.id}.length`, row.length),
    width: at<number>(`mockUpPieces.${row.id}.width`, row.width),
    height: at<number>(`mockUpPieces.${row.id}.height`, row.height),
    spaceX: at<number>('mockUpPrinter.spaceX', mockUpPrinter.spaceX),
    spaceY: at<number>('mockUpPrinter.spaceY', mockUpPrinter.spaceY),
    spaceZ: at<number>('mockUpPrinter.spaceZ', mockUpPrinter.spaceZ),
    rim: at<number>('mockUpPrinter.rim', mockUpPrinter.rim),
  }),
  evaluate: ({ length, width, height, spaceX, spaceY, spaceZ, rim }) => {
    const [x, y, z] = [Math.max(0, spaceX - 2 * rim), Math.max(0, spaceY - 2 * rim), spaceZ];
    return judge(spareOf([length, width, height], [x, y, z]), {
      limit: { kind: 'min', value: 0 },
      // 0.5 % of the longest side: what plastic prints are off by in size.
      guard: 0.005 * Math.max(length, width, height),
      message: 'space',
      data: { x, y, z },
    });
  },
});
