import { Color, PerspectiveCamera, Points, Raycaster, Scene, Vector2, Vector3 } from 'three';
import { beforeAll, describe, expect, it } from 'vitest';
import { encodeTiles } from '../../server/measure/tiles/encode.ts';
import { buildPointGrid } from '../../shared/geometry/cloud.ts';
import { sampleSheet } from '../../shared/geometry/generate.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { tilesOf } from '../../shared/geometry/tiles.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { codecReady, decodeTile } from '../tiles/decode.ts';
import { NearMaterial, type ShownNearness } from './nearLook.ts';
import type { Palette } from './palette.ts';
import { type Placing, ScanLayer, type ScanView, type ShownTiles } from './scan.ts';
import type { TileObject } from './tileObject.ts';

beforeAll(() => codecReady);

const grey = new Color(0x888888);
const palette: Palette = {
  name: 'test',
  ground: grey,
  ink: grey,
  metal: grey,
  edge: grey,
  scan: [grey],
  fail: grey,
  close: grey,
  action: grey,
};
/** The eye 1 m above the origin, looking down. */
function eye(): PerspectiveCamera {
  const camera = new PerspectiveCamera(38, 1, 0.01, 50);
  camera.up.set(0, 1, 0);
  camera.position.set(0, 0, 1);
  camera.lookAt(0, 0, 0);
  return camera;
}
const down = (): Raycaster => {
  const ray = new Raycaster();
  const camera = eye();
  camera.updateMatrixWorld();
  ray.setFromCamera(new Vector2(0, 0), camera);
  return ray;
};

/** Two sheets, one 100 mm below the other, with real tiles that are all here; what was wanted is kept. */
async function sheets(origin: Vec3 = [0, 0, 0]) {
  const random = seededRandom(81);
  const at = (z: number) =>
    sampleSheet(
      { corner: [-0.2, -0.2, z], edgeU: [0.4, 0, 0], edgeV: [0, 0.4, 0] },
      { spacing: 0.003, sigma: 0 },
      random,
    );
  const points = Float32Array.from([...at(0), ...at(-0.1)]);
  const { index, tiles: packed } = await encodeTiles(buildPointGrid(points, origin));
  const here = new Map(
    tilesOf(index).map(({ number, count }) => {
      const decoded = decodeTile(packed[number] ?? new Uint8Array(), count);
      if (!decoded.ok) throw new Error(decoded.problem);
      return [number, decoded.points];
    }),
  );
  const wanted: number[][] = [];
  const tiles: ShownTiles = {
    index,
    tiles: tilesOf(index),
    points: (tile) => here.get(tile),
    want: (list) => wanted.push([...list]),
    onLoaded: () => () => undefined,
  };
  return { tiles, points, here, wanted };
}
const view = (tiles: ShownTiles, more: Partial<ScanView> = {}): ScanView => ({
  id: 'c1',
  tiles,
  visible: true,
  tone: 0,
  selected: false,
  ...more,
});
const shownPoints = (scene: Scene): number => {
  let count = 0;
  scene.traverse((object) => {
    if ('geometry' in object && object.visible) {
      const { geometry } = object as unknown as { geometry: { getAttribute(name: string): { count: number } } };
      count += geometry.getAttribute('position').count;
    }
  });
  return count;
};
const nearest = (points: Float32Array, to: Vec3, origin: Vec3): number => {
  let best = Number.POSITIVE_INFINITY;
  for (let o = 0; o < points.length; o += 3)
    best = Math.min(best, Math.hypot(...[0, 1, 2].map((k) => (points[o + k] ?? 0) + (origin[k] ?? 0) - (to[k] ?? 0))));
  return best;
};

describe('the scan in the scene', () => {
  it('shows every point that the budget allows, and asks for its tiles in the order of need', async () => {
    const { tiles, points, wanted } = await sheets();
    const scene = new Scene();
    const layer = new ScanLayer(scene, 1e6, () => undefined);
    layer.update([view(tiles)], palette);
    layer.choose(eye(), 4000);
    expect(shownPoints(scene)).toBe(points.length / 3);
    expect(wanted.at(-1)?.slice(0, 2)).toEqual([0, 1]);
    const small = new ScanLayer(new Scene(), 3000, () => undefined);
    small.update([view(tiles)], palette);
    small.choose(eye(), 4000);
    expect(wanted.at(-1)?.reduce((sum, n) => sum + (tiles.tiles[n]?.count ?? 0), 0)).toBeLessThanOrEqual(3000);
  });

  it('lets go of tiles that the source has let go of, and of a component that is gone', async () => {
    const { tiles, points, here, wanted } = await sheets();
    const scene = new Scene();
    const layer = new ScanLayer(scene, 1e6, () => undefined);
    layer.update([view(tiles)], palette);
    layer.choose(eye(), 4000);
    here.delete(0);
    layer.choose(eye(), 4000);
    expect(shownPoints(scene)).toBe(points.length / 3 - (tiles.tiles[0]?.count ?? 0));
    layer.update([], palette);
    expect(shownPoints(scene)).toBe(0);
    expect(wanted.at(-1)).toEqual([]);
  });

  it.each([
    ['as uploaded', undefined, [0, 0, 0]],
    [
      'turned over and far from zero',
      {
        rotation: [
          [-1, 0, 0],
          [0, 1, 0],
          [0, 0, -1],
        ],
        translation: [2000, -3000, -0.1],
      },
      [2000, 3000, 0],
    ],
  ] as const)('a point pointed at is one of the scan, on the nearer surface: %s', async (_, placing, origin) => {
    const { tiles, points } = await sheets([...origin]);
    const layer = new ScanLayer(new Scene(), 1e6, () => undefined);
    layer.update([view(tiles, placing ? { placing: placing as Placing } : {})], palette);
    layer.choose(eye(), 4000);
    const hit = layer.pick(down(), 0.004);
    if (!hit) throw new Error('nothing was hit');
    // Half a step of 31 um along each axis.
    expect(nearest(points, hit.inScan, [...origin])).toBeLessThan(0.5 * Math.sqrt(3) * 32e-6);
    expect(Math.abs(hit.at[2])).toBeLessThan(32e-6);
    expect(Math.hypot(hit.at[0], hit.at[1])).toBeLessThan(0.004);
    // The sheet that is below in the file is on top once turned over.
    expect(hit.inScan[2]).toBeCloseTo(placing ? -0.1 : 0, 4);
  });

  it('has no point where none is near the pointer, or where its component is hidden', async () => {
    const { tiles } = await sheets([0.5, 0, 0]);
    const layer = new ScanLayer(new Scene(), 1e6, () => undefined);
    layer.update([view(tiles)], palette);
    layer.choose(eye(), 4000);
    expect(layer.pick(down(), 0.004)).toBeNull();
    layer.update(
      [
        view(tiles, {
          visible: false,
          placing: {
            rotation: [
              [1, 0, 0],
              [0, 1, 0],
              [0, 0, 1],
            ],
            translation: [-0.5, 0, 0],
          },
        }),
      ],
      palette,
    );
    layer.choose(eye(), 4000);
    expect(layer.pick(down(), 0.004)).toBeNull();
    layer.update(
      [
        view(tiles, {
          placing: {
            rotation: [
              [1, 0, 0],
              [0, 1, 0],
              [0, 0, 1],
            ],
            translation: [-0.5, 0, 0],
          },
        }),
      ],
      palette,
    );
    layer.choose(eye(), 4000);
    expect(layer.pick(down(), 0.004)).not.toBeNull();
  });

  it('shows of a part of a scan what is in its box, points only at that, and asks for no fine tiles beside it', async () => {
    const { tiles, wanted } = await sheets();
    const lower = { least: [-1, -1, -0.2], greatest: [Number.POSITIVE_INFINITY, 1, -0.05] } as const;
    const layer = new ScanLayer(new Scene(), 1e6, () => undefined);
    layer.update([view(tiles)], palette);
    layer.choose(eye(), 4000);
    const all = wanted.at(-1)?.length ?? 0;
    layer.update([view(tiles, { box: lower })], palette);
    layer.choose(eye(), 4000);
    const hit = layer.pick(down(), 0.004);
    expect(hit?.at[2]).toBeCloseTo(-0.1, 4);
    const [material] = [...layer.materials()];
    expect(material?.clippingPlanes).toHaveLength(5);
    expect(material?.clippingPlanes?.every((plane) => plane.distanceToPoint(new Vector3(0, 0, -0.1)) > 0)).toBe(true);
    expect(material?.clippingPlanes?.some((plane) => plane.distanceToPoint(new Vector3(0, 0, 0)) < 0)).toBe(true);
    const corner = { least: [0.15, 0.15, -1], greatest: [1, 1, 1] } as const;
    layer.update([view(tiles, { box: corner })], palette);
    layer.choose(eye(), 4000);
    expect(wanted.at(-1)?.length).toBeLessThan(all);
    expect(layer.pick(down(), 0.004)).toBeNull();
  });

  it('gives the device a level for each point, and draws what is not told yet in the colour of the component', async () => {
    const { tiles } = await sheets();
    const levels = new Map([[0, new Uint8Array(tiles.tiles[0]?.count ?? 0).fill(7)]]);
    const wanted: number[][] = [];
    const source: ShownNearness = {
      levels: (tile) => levels.get(tile),
      want: (list) => wanted.push([...list]),
      onLoaded: () => () => undefined,
    };
    const scene = new Scene();
    const layer = new ScanLayer(scene, 1e6, () => undefined);
    const drawn = (more: Partial<ScanView> = {}): TileObject[] => {
      layer.update([view(tiles, more)], palette);
      layer.choose(eye(), 4000);
      const found: TileObject[] = [];
      scene.traverse((object) => object instanceof Points && found.push(object));
      return found;
    };
    const near = { source, clearance: 0.025 };
    const [told, ...rest] = drawn({ near });
    const attribute = told?.geometry.getAttribute('nearness');
    expect([attribute?.array, attribute?.normalized, attribute?.count]).toEqual([
      levels.get(0),
      true,
      tiles.tiles[0]?.count,
    ]);
    expect(told?.material).toBeInstanceOf(NearMaterial);
    expect(rest.length).toBeGreaterThan(0);
    for (const one of rest) expect(one.material).not.toBeInstanceOf(NearMaterial);
    expect(wanted.at(-1)).toEqual(expect.arrayContaining([0, 1]));
    levels.set(0, new Uint8Array(tiles.tiles[0]?.count ?? 0).fill(9));
    expect(drawn({ near })[0]?.geometry.getAttribute('nearness')).toBe(attribute);
    expect(attribute?.array[0]).toBe(9);
    for (const one of drawn()) expect(one.material).not.toBeInstanceOf(NearMaterial);
    expect(wanted.at(-1)).toEqual([]);
  });
});
