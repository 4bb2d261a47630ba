import { expect, it } from 'vitest';
import { pickedBox } from './pickedBox.ts';

it('stands 10 mm off every place pointed at, on whole millimetres', () => {
  expect(pickedBox([])).toBeUndefined();
  expect(pickedBox([[0.1, -0.2, 0]])).toEqual({ least: [0.09, -0.21, -0.01], greatest: [0.11, -0.19, 0.01] });
  const two = pickedBox([
    [0.1004, 0, 0.5],
    [-0.3, 0.25, 0.4996],
  ]);
  expect(two).toEqual({ least: [-0.31, -0.01, 0.489], greatest: [0.111, 0.26, 0.51] });
});
