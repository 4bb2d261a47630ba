/** Where a part stands in the whole: three rows of x, y, z and a shift; what a point's new x, y and z are. */
export type Placement = readonly number[];

/** Where a part stands as it was drawn. */
export const IN_PLACE: Placement = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

/** From the four columns x, y, z and shift of three numbers each, one after the other, as 3MF and glTF write them; in place without. */
export function columnsPlacement(columns: readonly number[] | undefined): Placement {
  if (!columns) return IN_PLACE;
  return [0, 1, 2].flatMap((row) => [0, 3, 6, 9].map((column) => columns[column + row] ?? 0));
}

/** The placement of a part in the whole that its own whole is placed in. */
export function placedIn(outer: Placement, inner: Placement): Placement {
  return [0, 4, 8].flatMap((row) =>
    [0, 1, 2, 3].map((column) => {
      const sum = [0, 1, 2].reduce((total, k) => total + (outer[row + k] ?? 0) * (inner[4 * k + column] ?? 0), 0);
      return column === 3 ? sum + (outer[row + 3] ?? 0) : sum;
    }),
  );
}

/** A coordinate (0, 1, 2) of a point placed. */
export const placed = (m: Placement, row: number, x: number, y: number, z: number): number =>
  (m[4 * row] ?? 0) * x + (m[4 * row + 1] ?? 0) * y + (m[4 * row + 2] ?? 0) * z + (m[4 * row + 3] ?? 0);

/** Whether a placement mirrors: triangles then turn the other way round. */
export function mirrors([a = 0, b = 0, c = 0, , d = 0, e = 0, f = 0, , g = 0, h = 0, i = 0]: Placement): boolean {
  return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g) < 0;
}
