import { expect, it } from 'vitest';
import { type LabelBox, placeLabels } from './labelPlaces.ts';

const label = (id: string, x: number, y: number, rank = 1): LabelBox => ({
  ...{ id, x, y, rank },
  ...{ offset: [8, -12], width: 100, height: 20 },
});

const VIEW = { width: 400, height: 300 };

it('leaves alone what covers nothing', () => {
  expect([...placeLabels([label('a', 10, 50), label('b', 10, 200)], VIEW).values()]).toEqual([
    { x: 10, y: 50, mini: false },
    { x: 10, y: 200, mini: false },
  ]);
});

it('moves one that would cover another by whole rows, and leaves a mark where there is no row left', () => {
  const places = placeLabels(
    Array.from({ length: 8 }, (_, i) => label(String(i), 10 + i, 100)),
    VIEW,
  );
  expect([...places.values()].map(({ y }) => y)).toEqual([100, 120, 80, 140, 60, 160, 40, 100]);
  expect([...places.values()].map(({ mini }) => mini)).toEqual([...Array(7).fill(false), true]);
  expect(places.get('7')?.x).toBe(17);
});

it('draws one back from the right edge, and none that is out of sight', () => {
  const places = placeLabels([label('a', 380, 50), label('b', 420, 150)], VIEW);
  expect(places.get('a')).toEqual({ x: 292, y: 50, mini: false });
  expect(places.get('b')?.x).toBe(420);
});

it('never moves a pin: the others make room', () => {
  const places = placeLabels([label('words', 10, 100, 2), label('pin', 12, 100, 0)], VIEW);
  expect(places.get('pin')).toEqual({ x: 12, y: 100, mini: false });
  expect(places.get('words')).toEqual({ x: 10, y: 120, mini: false });
});

it('keeps labels out from under what covers the view', () => {
  const places = placeLabels([label('beside', 10, 60), label('under', 10, 20)], VIEW, [[0, 0, 150, 60]]);
  expect(places.get('beside')).toEqual({ x: 10, y: 80, mini: false });
  // Below the other: above it would leave the view.
  expect(places.get('under')).toEqual({ x: 10, y: 20, mini: true });
  expect(placeLabels([label('alone', 10, 20)], VIEW, [[0, 0, 150, 60]]).get('alone')).toEqual({
    x: 10,
    y: 80,
    mini: false,
  });
});
