/** A tube of the header as a measurement takes it. Lengths in metres. */
export interface TubeShape {
  /** Centreline node table, flat: x, y, z, bend radius of every node in turn. */
  readonly nodes: readonly number[];
  readonly outerRadius: number;
  /** Distance along the centreline from which the tube counts. */
  readonly fromS: number;
}
