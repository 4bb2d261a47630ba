import { expect, it } from 'vitest';
import * as Y from 'yjs';
import { addElement } from './commands.ts';
import { setPieceScan } from './printedPieces.ts';
import { readSpec, SPEC_ROOT } from './reader.ts';

it('names a scan for a printed piece, and takes it away without a trace', () => {
  const doc = new Y.Doc();
  addElement(doc, 'printedPieces', { id: 'p1', order: 1, values: { name: 'Runner 1', size95: 2e-4 } });
  const read = () => readSpec(doc.getMap<unknown>(SPEC_ROOT)).printedPieces[0];
  setPieceScan(doc, 'p1', { sha256: 'a'.repeat(64), unit: 'mm' });
  expect(read()).toMatchObject({ scan: 'a'.repeat(64), scanUnit: 'mm', size95: 2e-4 });
  setPieceScan(doc, 'p1', null);
  expect(read()).toMatchObject({ name: 'Runner 1', scan: undefined, scanUnit: undefined, size95: 2e-4 });
  expect([...doc.getMap(SPEC_ROOT).keys()].filter((key) => key.includes('scan'))).toEqual([]);
});
