import { expect, it } from 'vitest';
import * as Y from 'yjs';
import { addElement } from './commands.ts';
import { readSpec, SPEC_ROOT } from './reader.ts';
import { setPlacedScan, setScanBox, setScanOf } from './scanOf.ts';

const scan = { sha256: 'a'.repeat(64), unit: 'mm' };

it.each(['components', 'printedPieces'] as const)(
  'names a scan for a row of %s, and takes it away without a trace',
  (branch) => {
    const doc = new Y.Doc();
    addElement(doc, branch, { id: 'p1', order: 1, values: { name: 'Runner 1' } });
    const read = () => readSpec(doc.getMap<unknown>(SPEC_ROOT))[branch][0];
    setScanOf(doc, `${branch}.p1`, scan);
    expect(read()).toMatchObject({ scan: scan.sha256, scanUnit: 'mm', name: 'Runner 1' });
    setScanOf(doc, `${branch}.p1`, null);
    expect(read()).toMatchObject({ name: 'Runner 1', scan: undefined, scanUnit: undefined });
    expect([...doc.getMap(SPEC_ROOT).keys()].filter((key) => key.includes('scan'))).toEqual([]);
  },
);

it('sets the part of a scan that a component is, and makes it whole again', () => {
  const doc = new Y.Doc();
  addElement(doc, 'components', { id: 'c1', order: 1, values: { name: 'Rail' } });
  const read = () => readSpec(doc.getMap<unknown>(SPEC_ROOT)).components[0];
  let changes = 0;
  doc.on('afterTransaction', () => changes++);
  setScanBox(doc, 'c1', { least: [-0.1, 0, 0.2], greatest: [0.1, 0.3, 0.4] });
  expect(changes).toBe(1);
  expect(read()).toMatchObject({ fromX: -0.1, fromY: 0, fromZ: 0.2, toX: 0.1, toY: 0.3, toZ: 0.4 });
  setScanBox(doc, 'c1', null);
  expect(read()).toMatchObject({ name: 'Rail', fromX: undefined, toZ: undefined });
});

it('names a scan together with how it is placed, at once', () => {
  const doc = new Y.Doc();
  addElement(doc, 'components', { id: 'c1', order: 1, values: { name: 'Rail', placed: 'by-datums' } });
  let changes = 0;
  doc.on('afterTransaction', () => changes++);
  setPlacedScan(doc, 'c1', { scan, placed: 'as-uploaded' });
  expect(changes).toBe(1);
  expect(readSpec(doc.getMap<unknown>(SPEC_ROOT)).components[0]).toMatchObject({
    ...{ name: 'Rail', scan: scan.sha256, scanUnit: 'mm', placed: 'as-uploaded' },
  });
});
