import {
  BufferAttribute,
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
import { type NearLook, NearMaterial, type ShownNearness } from './nearLook.ts';
import type { Palette } from './palette.ts';
import { matrixOf, type Placing, setLevels, type TileObject, tileObject } from './tileObject.ts';
import { toneOf } from './tones.ts';

export type { Placing } from './tileObject.ts';

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
  /** Its place among the bay components, which gives it its colour. */
  readonly tone: number;
  readonly selected: boolean;
  /** Left out for points in the component's colour. */
  readonly near?: NearLook;
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
  readonly near: NearMaterial;
  readonly objects: Map<number, TileObject>;
  readonly stop: () => void;
  /** Stops listening to the nearness, and says that none of it is shown. */
  leave: () => void;
}

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
    const near = new Map<ShownNearness, number[]>();
    for (const [i, { view }] of shown.entries())
      if (view.near) near.set(view.near.source, [...(near.get(view.near.source) ?? []), ...(numbers[i] ?? [])]);
    for (const [source, all] of near) source.want(all);
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
    const stop = view.tiles.onLoaded(this.changed);
    const near = new NearMaterial();
    // Without a nearness, so that dressing finds the one of the view to be new.
    const { near: _, ...plain } = view;
    const made: Drawn = { view: plain, group, material, near, objects: new Map(), stop, leave: () => undefined };
    this.drawn.set(view.id, made);
    return made;
  }

  private remove(id: string): void {
    const there = this.drawn.get(id);
    if (!there) return;
    there.stop();
    there.leave();
    there.view.tiles.want([]);
    this.drop(there.group);
    there.material.dispose();
    there.near.dispose();
    this.drawn.delete(id);
  }

  private dress(drawn: Drawn, view: ScanView, palette: Palette): void {
    if (drawn.view.near?.source !== view.near?.source) this.listen(drawn, view.near);
    drawn.view = view;
    drawn.group.visible = view.visible;
    drawn.group.matrix.copy(matrixOf(view.placing));
    drawn.group.matrixWorldNeedsUpdate = true;
    const tone = palette.scan[toneOf(view.tone)] ?? palette.ink;
    drawn.material.color.copy(view.selected ? palette.action : tone);
    drawn.material.size = view.selected ? 3.2 : 2;
    drawn.material.clippingPlanes = planesOf(view.box);
    drawn.near.color.copy(tone);
    drawn.near.size = drawn.material.size;
    drawn.near.clippingPlanes = drawn.material.clippingPlanes;
    drawn.near.dress(palette, view.near?.clearance ?? null);
    if (!view.visible) for (const source of [view.tiles, view.near?.source]) source?.want([]);
  }

  private listen(drawn: Drawn, near: NearLook | undefined): void {
    drawn.leave();
    const stop = near?.source.onLoaded(this.changed);
    drawn.leave = () => {
      stop?.();
      near?.source.want([]);
    };
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
    for (const [number, object] of objects) {
      const levels = view.near?.source.levels(number);
      if (levels) setLevels(object, levels);
      // What is not known yet is not drawn as far.
      object.material = levels ? drawn.near : drawn.material;
    }
  }
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
