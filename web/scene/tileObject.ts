import { BufferAttribute, BufferGeometry, Matrix4, Points, type PointsMaterial, Sphere, Vector3 } from 'three';
import type { Tile } from '../../shared/geometry/tiles.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';

/** What a Uint16 is divided by before it reaches the shader. */
const FULL = 65_535;

/** Where a scan lies: rows of a rotation, and then a shift; metres. */
export interface Placing {
  readonly rotation: readonly [Vec3, Vec3, Vec3];
  readonly translation: Vec3;
}

/** A tile as it is drawn. */
export type TileObject = Points<BufferGeometry, PointsMaterial>;

/** Where a scan lies as a matrix. */
export function matrixOf(placing: Placing | undefined): Matrix4 {
  const matrix = new Matrix4();
  if (!placing) return matrix;
  const [a, b, c] = placing.rotation;
  const [x, y, z] = placing.translation;
  return matrix.set(a[0], a[1], a[2], x, b[0], b[1], b[2], y, c[0], c[1], c[2], z, 0, 0, 0, 1);
}

/** The tile's numbers go to the device as they are; the object's own matrix makes metres of them. */
export function tileObject(tile: Tile, points: Uint16Array<ArrayBuffer>, material: PointsMaterial) {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(points, 4, true));
  const scale = FULL * tile.step;
  const middle = tile.side / scale / 2;
  // Known from the tile: going through all points for it would cost more than drawing them.
  geometry.boundingSphere = new Sphere(new Vector3(middle, middle, middle), middle * Math.sqrt(3));
  const object = new Points(geometry, material);
  object.scale.setScalar(scale);
  // A point stands in the middle of its step.
  object.position.set(...tile.corner).addScalar(tile.step / 2);
  object.updateMatrix();
  object.matrixAutoUpdate = false;
  return object;
}

/** Gives a tile's points their levels. The buffer on the device stays: one that is replaced would not be freed before the tile is. */
export function setLevels({ geometry }: TileObject, levels: Uint8Array<ArrayBuffer>): void {
  const there = geometry.attributes.nearness;
  if (!(there instanceof BufferAttribute)) {
    geometry.setAttribute('nearness', new BufferAttribute(levels, 1, true));
    return;
  }
  if (there.array === levels) return;
  there.array = levels;
  there.needsUpdate = true;
}
