import {
  BufferAttribute,
  BufferGeometry,
  Frustum,
  Group,
  Matrix4,
  type PerspectiveCamera,
  Plane,
  Points,
  PointsMaterial,
  type Raycaster,
  type Scene,
  Sphere,
  Vector3,
} from 'three';
import type { Tile, TileIndex } from '../../shared/geometry/tiles.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { chooseTiles, type TileEye } from './chooseTiles.ts';
import { Layer } from './layer.ts';
import type { Palette } from './palette.ts';

/** The tiles of a scan as the scene needs them. */
export interface ShownTiles {
  readonly index: TileIndex;
  readonly tiles: readonly Tile[];
  /** Four numbers a point, the first three its steps from the tile's corner; undefined while the tile is not here. */
  points(tile: number): Uint16Array<ArrayBuffer> | undefined;
  /** The tiles to show, most needed first. */
  want(tiles: readonly number[]): void;
  onLoaded(listener: () => void): () => void;
}

/** Where a scan lies: rows of a rotation, and then a shift; metres. */
export interface Placing {
  readonly rotation: readonly [Vec3, Vec3, Vec3];
  readonly translation: Vec3;
}

/** Everything between two corners, metres. */
export interface ClipBox {
  readonly least: Vec3;
  readonly greatest: Vec3;
}

/** A bay component's scan as the scene draws it. */
export interface ScanView {
  readonly id: string;
  readonly tiles: ShownTiles;
  /** Left out for a scan that lies where its file says. */
  readonly placing?: Placing;
  /** The part of it that counts, where it lies in the scene; left out for all of it. Corners may be infinitely far. */
  readonly box?: ClipBox;
  readonly visible: boolean;
  /** Place in the palette. */
  readonly tone: number;
  readonly selected: boolean;
}

/** A point of a scan that was pointed at; metres. */
export interface ScanHit {
  readonly component: string;
  /** In the scene. */
  readonly at: Vec3;
  /** As its file has it. */
  readonly inScan: Vec3;
}

interface Drawn {
  view: ScanView;
  readonly group: Group;
  readonly material: PointsMaterial;
  readonly objects: Map<number, Points<BufferGeometry, PointsMaterial>>;
  readonly stop: () => void;
}

/** What a Uint16 is divided by before it reaches the shader. */
const FULL = 65_535;
/** Hits so much deeper than the first, in reaches of the pointer, are still of the same surface. */
const SAME_SURFACE = 3;

/** The scans: a group a component, a point object a tile. */
export class ScanLayer extends Layer {
  private readonly drawn = new Map<string, Drawn>();
  private readonly budget: number;
  private readonly changed: () => void;

  /** @param budget points shown at most; `changed` is called when tiles have come */
  constructor(scene: Scene, budget: number, changed: () => void) {
    super(scene);
    this.budget = budget;
    this.changed = changed;
  }

  update(components: readonly ScanView[], palette: Palette): void {
    const ids = new Set(components.map((c) => c.id));
    for (const id of this.drawn.keys()) if (!ids.has(id)) this.remove(id);
    for (const view of components) {
      const there = this.drawn.get(view.id);
      if (there && there.view.tiles !== view.tiles) this.remove(view.id);
      this.dress(this.drawn.get(view.id) ?? this.add(view), view, palette);
    }
  }

  /** Shows what the eye and the budget ask for of what is here, and asks for the rest. */
  choose(camera: PerspectiveCamera, height: number): void {
    const shown = [...this.drawn.values()].filter(({ view }) => view.visible);
    const offers = shown.map((one) => ({
      index: one.view.tiles.index,
      tiles: one.view.tiles.tiles,
      eye: eyeIn(one, camera, height),
    }));
    const numbers: number[][] = shown.map(() => []);
    // Two components may be parts of one scan.
    const wanted = new Map<ShownTiles, number[]>(shown.map(({ view }) => [view.tiles, []]));
    for (const { scan, tile } of chooseTiles(offers, this.budget)) {
      numbers[scan]?.push(tile.number);
      const source = shown[scan]?.view.tiles;
      if (source) wanted.get(source)?.push(tile.number);
    }
    for (const [source, all] of wanted) source.want(all);
    for (const [i, one] of shown.entries()) this.show(one, numbers[i] ?? []);
  }

  /** The point nearest to the middle of the pointer on the first surface under it. @param reach metres beside the ray */
  pick(raycaster: Raycaster, reach: number): ScanHit | null {
    raycaster.params.Points.threshold = reach;
    // What came since the last picture has not been placed yet.
    for (const { group } of this.drawn.values()) group.updateMatrixWorld();
    const found = [...this.drawn.values()]
      .filter(({ view }) => view.visible)
      .flatMap((one) =>
        raycaster
          .intersectObjects(
            [...one.objects.values()].filter((object) => object.visible),
            false,
          )
          .flatMap((hit) => {
            const place = placeOf(one, hit);
            return place ? [{ hit, place }] : [];
          }),
      )
      .sort((a, b) => a.hit.distance - b.hit.distance);
    const deepest = (found[0]?.hit.distance ?? 0) + SAME_SURFACE * reach;
    let best = found[0];
    for (const one of found) {
      if (one.hit.distance > deepest) break;
      if ((one.hit.distanceToRay ?? 0) < (best?.hit.distanceToRay ?? 0)) best = one;
    }
    return best?.place ?? null;
  }

  /** How each component is drawn. */
  materials(): readonly PointsMaterial[] {
    return [...this.drawn.values()].map(({ material }) => material);
  }

  override dispose(): void {
    for (const id of [...this.drawn.keys()]) this.remove(id);
    super.dispose();
  }

  private add(view: ScanView): Drawn {
    const group = new Group();
    group.matrixAutoUpdate = false;
    this.group.add(group);
    const material = new PointsMaterial({ size: 2, sizeAttenuation: false });
    const made: Drawn = { view, group, material, objects: new Map(), stop: view.tiles.onLoaded(this.changed) };
    this.drawn.set(view.id, made);
    return made;
  }

  private remove(id: string): void {
    const there = this.drawn.get(id);
    if (!there) return;
    there.stop();
    there.view.tiles.want([]);
    this.drop(there.group);
    there.material.dispose();
    this.drawn.delete(id);
  }

  private dress(drawn: Drawn, view: ScanView, palette: Palette): void {
    drawn.view = view;
    drawn.group.visible = view.visible;
    drawn.group.matrix.copy(matrixOf(view.placing));
    drawn.group.matrixWorldNeedsUpdate = true;
    const tone = palette.scan[view.tone % palette.scan.length] ?? palette.ink;
    drawn.material.color.copy(view.selected ? palette.action : tone);
    drawn.material.size = view.selected ? 3.2 : 2;
    drawn.material.clippingPlanes = planesOf(view.box);
    if (!view.visible) view.tiles.want([]);
  }

  private show(drawn: Drawn, wanted: readonly number[]): void {
    const { objects, view, group } = drawn;
    const now = new Set(wanted);
    for (const [number, object] of objects) {
      object.visible = now.has(number);
      if (view.tiles.points(number) !== undefined) continue;
      object.removeFromParent();
      object.geometry.dispose();
      objects.delete(number);
    }
    for (const number of wanted) {
      const points = view.tiles.points(number);
      const tile = view.tiles.tiles[number];
      if (objects.has(number) || !points || !tile) continue;
      const object = tileObject(tile, points, drawn.material);
      objects.set(number, object);
      group.add(object);
    }
  }
}

function matrixOf(placing: Placing | undefined): Matrix4 {
  const matrix = new Matrix4();
  if (!placing) return matrix;
  const [a, b, c] = placing.rotation;
  const [x, y, z] = placing.translation;
  return matrix.set(a[0], a[1], a[2], x, b[0], b[1], b[2], y, c[0], c[1], c[2], z, 0, 0, 0, 1);
}

/** The tile's numbers go to the device as they are; the object's own matrix makes metres of them. */
function tileObject(tile: Tile, points: Uint16Array<ArrayBuffer>, material: PointsMaterial) {
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

/** The sides of a box that are not infinitely far; what is inside is shown. */
function planesOf(box: ClipBox | undefined): Plane[] {
  if (!box) return [];
  const sides = [box.least, box.greatest].flatMap((corner, side) =>
    corner.map((x, k) => ({
      x,
      normal: new Vector3().setComponent(k, side === 0 ? 1 : -1),
      away: side === 0 ? -x : x,
    })),
  );
  return sides.filter(({ x }) => Number.isFinite(x)).map(({ normal, away }) => new Plane(normal, away));
}

function inBox(box: ClipBox | undefined, p: Vec3, more = 0): boolean {
  return (
    !box ||
    [0, 1, 2].every((k) => (p[k] ?? 0) >= (box.least[k] ?? 0) - more && (p[k] ?? 0) <= (box.greatest[k] ?? 0) + more)
  );
}

function eyeIn({ group, view: { box } }: Drawn, camera: PerspectiveCamera, height: number): TileEye {
  group.updateMatrixWorld();
  camera.updateMatrixWorld();
  const view = new Matrix4().multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse);
  const frustum = new Frustum().setFromProjectionMatrix(view.multiply(group.matrixWorld));
  const at = camera.getWorldPosition(new Vector3()).applyMatrix4(group.matrixWorld.clone().invert());
  const ball = new Sphere();
  return {
    at: [at.x, at.y, at.z],
    focal: height / (2 * Math.tan((camera.fov * Math.PI) / 360)),
    sees: (centre, radius) => {
      if (!frustum.intersectsSphere(ball.set(ball.center.set(...centre), radius))) return false;
      const { x, y, z } = ball.center.applyMatrix4(group.matrixWorld);
      return inBox(box, [x, y, z], radius);
    },
  };
}

function placeOf(drawn: Drawn, hit: ReturnType<Raycaster['intersectObjects']>[number]): ScanHit | null {
  const { object, index } = hit;
  if (!(object instanceof Points) || index === undefined) return null;
  const position: unknown = object.geometry.getAttribute('position');
  if (!(position instanceof BufferAttribute)) return null;
  // What the library calls the point lies on the ray; the scan's own point is asked for.
  const place = new Vector3().fromBufferAttribute(position, index).applyMatrix4(object.matrix);
  const inScan: Vec3 = [place.x, place.y, place.z];
  place.applyMatrix4(drawn.group.matrixWorld);
  const at: Vec3 = [place.x, place.y, place.z];
  return inBox(drawn.view.box, at) ? { component: drawn.view.id, at, inScan } : null;
}
