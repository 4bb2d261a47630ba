import { expect, it } from 'vitest';
import * as Y from 'yjs';
import { addElement, userOrigin } from './commands.ts';
import { setPickedPlace, setScanPlace } from './datums.ts';
import { readSpec, SPEC_ROOT } from './reader.ts';

it('sets where the scan has a datum point in one step, and leaves the car alone', () => {
  const doc = new Y.Doc();
  addElement(doc, 'datums', { id: 'd1', order: 1, values: { name: 'Target 1', carX: 0.25 } });
  const undo = new Y.UndoManager(doc.getMap(SPEC_ROOT), { trackedOrigins: new Set([userOrigin]), captureTimeout: 0 });
  setScanPlace(doc, 'd1', [1.25, -0.5, 0.125]);
  const read = () => readSpec(doc.getMap<unknown>(SPEC_ROOT)).datums[0];
  expect(read()).toMatchObject({ scanX: 1.25, scanY: -0.5, scanZ: 0.125, carX: 0.25, carY: undefined });
  undo.undo();
  expect(read()).toMatchObject({ name: 'Target 1', scanX: undefined, scanY: undefined, scanZ: undefined, carX: 0.25 });
});

it('sets the place of a point on a port in one step', () => {
  const doc = new Y.Doc();
  addElement(doc, 'portPoints', { id: 'o1', order: 1, values: { cylinder: 2 } });
  const undo = new Y.UndoManager(doc.getMap(SPEC_ROOT), { trackedOrigins: new Set([userOrigin]), captureTimeout: 0 });
  setPickedPlace(doc, { branch: 'portPoints', id: 'o1' }, [0.1, 0, -0.02]);
  const read = () => readSpec(doc.getMap<unknown>(SPEC_ROOT)).portPoints[0];
  expect(read()).toMatchObject({ cylinder: 2, x: 0.1, y: 0, z: -0.02 });
  undo.undo();
  expect(read()).toMatchObject({ cylinder: 2, x: undefined, y: undefined, z: undefined });
});
