/** A label on the screen, pixels: its place, how far its box begins from there, and its size. */
export interface LabelBox {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  readonly offset: readonly [x: number, y: number];
  readonly width: number;
  readonly height: number;
  /** Lower ones are put first; those of rank 0 stay exactly where they are. */
  readonly rank: number;
}

/** Where a label is drawn; `mini` when there is room for no more than a mark at its place. */
export interface LabelPlace {
  readonly x: number;
  readonly y: number;
  readonly mini: boolean;
}

/** A box on the screen, pixels. */
export type Rect = readonly [left: number, top: number, right: number, bottom: number];

/** How far a label is moved at most, in its own heights (own: farther off nobody sees what it belongs to). */
const ROWS = [0, 1, -1, 2, -2, 3, -3];

/** Places labels so that none covers another, none lies under what covers the view, and none is cut off at its right side. */
export function placeLabels(
  labels: readonly LabelBox[],
  view: { readonly width: number; readonly height: number },
  covered: readonly Rect[] = [],
): ReadonlyMap<string, LabelPlace> {
  const taken: Rect[] = [...covered];
  const places = new Map<string, LabelPlace>();
  for (const label of labels.toSorted((a, b) => a.rank - b.rank)) {
    const { x, y, width, height, offset } = label;
    const room = Math.max(0, view.width - width - offset[0]);
    // From the right edge a label is drawn back to the left, over its own place.
    const left = label.rank === 0 || x < 0 || x > view.width ? x : Math.min(x, room);
    const fits = (row: number): boolean => {
      const rect = rectOf(label, left, y + row * height);
      return free(taken, rect) && (row === 0 || (rect[1] >= 0 && rect[3] <= view.height));
    };
    const row = label.rank === 0 ? 0 : ROWS.find(fits);
    places.set(label.id, { x: row === undefined ? x : left, y: y + (row ?? 0) * height, mini: row === undefined });
    if (row !== undefined) taken.push(rectOf({ width, height, offset }, left, y + row * height));
  }
  return places;
}

const rectOf = (
  { width, height, offset: [dx, dy] }: Pick<LabelBox, 'width' | 'height' | 'offset'>,
  x: number,
  y: number,
): Rect => [x + dx, y + dy, x + dx + width, y + dy + height];

const free = (taken: readonly Rect[], [left, top, right, bottom]: Rect): boolean =>
  taken.every(([l, t, r, b]) => right <= l || left >= r || bottom <= t || top >= b);
