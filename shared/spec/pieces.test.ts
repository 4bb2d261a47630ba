import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { freshId, setField, userOrigin } from './commands.ts';
import { addPiece, type Piece, pieceName, poseOf, setPieceFile, setPose } from './pieces.ts';
import { createSpecReader, SPEC_ROOT } from './reader.ts';

const file = { sha256: 'a'.repeat(64), unit: 'mm' };

/** A document with one piece made from a part; counts its changes. */
function filled() {
  const doc = new Y.Doc();
  const reader = createSpecReader(doc);
  const origins: unknown[] = [];
  doc.on('afterTransaction', ({ origin, changed }: Y.Transaction) => void (changed.size > 0 && origins.push(origin)));
  const id = freshId(doc, 'pieces', () => 0.5);
  addPiece(doc, { id, name: 'Collector', file }, []);
  const only = (): Piece => {
    const [piece] = reader.current().pieces;
    if (!piece) throw new Error('no piece');
    return piece;
  };
  return { doc, id, only, reader, origins };
}

describe('a piece', () => {
  it('is made from a part, printed, after the others', () => {
    const { doc, id, only, reader } = filled();
    expect(only()).toMatchObject({ id, name: 'Collector', mesh: file.sha256, meshUnit: 'mm', use: 'printed' });
    addPiece(doc, { id: freshId(doc, 'pieces', () => 0.5), name: 'Flange', file }, reader.current().pieces);
    expect(reader.current().pieces.map(({ name, order }) => [name, order])).toEqual([
      ['Collector', 1],
      ['Flange', 2],
    ]);
  });

  it('has a build pose once all three turns are known', () => {
    const { doc, id, only, origins } = filled();
    expect(poseOf(only())).toBeNull();
    setField(doc, `pieces.${id}.turnX`, 0.1);
    expect(poseOf(only())).toBeNull();
    setPose(doc, id, [Math.PI, -Math.PI / 2, 0]);
    expect(poseOf(only())).toEqual([Math.PI, -Math.PI / 2, 0]);
    // One step to take back: the whole pose was one change of this person's.
    expect(origins).toEqual([userOrigin, userOrigin, userOrigin]);
  });

  it('loses its build pose with its part', () => {
    const { doc, id, only } = filled();
    setPose(doc, id, [1, 1, 1]);
    setPieceFile(doc, id, { sha256: 'b'.repeat(64), unit: 'in' });
    expect([only(), poseOf(only())]).toMatchObject([{ mesh: 'b'.repeat(64), meshUnit: 'in', name: 'Collector' }, null]);
    setPieceFile(doc, id, null);
    expect([only().mesh, only().meshUnit]).toEqual([undefined, undefined]);
    expect([...doc.getMap(SPEC_ROOT).keys()].filter((key) => key.includes('turn'))).toEqual([]);
  });
});

describe('a piece’s name', () => {
  it.each([
    ['collector.stl', [], 'collector'],
    ['flange_left.v2.STEP', [], 'flange left.v2'],
    ['collector.stl', ['collector'], 'collector 2'],
    ['collector.stl', ['collector', 'collector 2'], 'collector 3'],
    ['.stl', [], 'Piece'],
    [`${'x'.repeat(60)}.stl`, [], 'x'.repeat(40)],
    [`${'x'.repeat(60)}.stl`, ['x'.repeat(40)], `${'x'.repeat(38)} 2`],
  ])('from %s beside %j is %s', (name, taken, made) => {
    expect(
      pieceName(
        name,
        taken.map((other) => ({ name: other })),
      ),
    ).toBe(made);
  });
});
