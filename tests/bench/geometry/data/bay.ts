import type { Random } from '../../../../shared/geometry/random.ts';
import { seededRandom } from '../../../../shared/geometry/random.ts';
import type { Vec3 } from '../../../../shared/geometry/vector.ts';
import { COLLECTOR, primaryPath } from './header.ts';
import { frames, pieces, stations } from './sweep.ts';

/*
 * An invented bay around that header, millimetres: block, rails, shaft, hoses and sheets, noise of 0.35 mm along the normal, 0.3 % strays,
 * dense within 90 mm of the header and a tenth of that beyond.
 */

const [SIGMA, FAR, NEAR, STRAYS] = [0.35, 0.1, 90, 0.003];

/** A surface to draw points from: its weighted area, and a draw of place and normal. */
interface Drawn {
  readonly weight: number;
  readonly draw: () => readonly [at: Vec3, normal: Vec3];
}

type Shape = (random: Random) => readonly Drawn[];

const cross = (u: Vec3, v: Vec3): Vec3 => [
  u[1] * v[2] - u[2] * v[1],
  u[2] * v[0] - u[0] * v[2],
  u[0] * v[1] - u[1] * v[0],
];

const sheet =
  (density: number, corner: Vec3, [u, v]: readonly [Vec3, Vec3], bump = 0): Shape =>
  (random) => {
    const across = cross(u, v);
    const area = Math.hypot(...across);
    const normal: Vec3 = [across[0] / area, across[1] / area, across[2] / area];
    const draw = (): readonly [Vec3, Vec3] => {
      const [a, b] = [random(), random()];
      const h = bump && bump * (Math.sin(a * 37) * Math.cos(b * 23) + 0.4 * Math.sin(a * 91 + b * 57));
      const on = (k: 0 | 1 | 2): number => corner[k] + u[k] * a + v[k] * b + normal[k] * h;
      return [[on(0), on(1), on(2)], normal];
    };
    return [{ weight: area * density, draw }];
  };

const block =
  (density: number, [x, y, z]: Vec3, [x1, y1, z1]: Vec3): Shape =>
  (random) => {
    const [dx, dy, dz]: readonly Vec3[] = [
      [x1 - x, 0, 0],
      [0, y1 - y, 0],
      [0, 0, z1 - z],
    ];
    if (!dx || !dy || !dz) return [];
    const faces: readonly (readonly [Vec3, Vec3, Vec3])[] = [
      [[x, y, z], dx, dy],
      [[x, y, z1], dx, dy],
      [[x, y, z], dx, dz],
      [[x, y1, z], dx, dz],
      [[x, y, z], dy, dz],
      [[x1, y, z], dy, dz],
    ];
    return faces.flatMap(([corner, u, v]) => sheet(density, corner, [u, v])(random));
  };

const hose =
  (density: number, corners: readonly Vec3[], bend: number, radius: number): Shape =>
  (random) => {
    const path = pieces(
      corners,
      corners.slice(1, -1).map(() => bend),
    );
    const line = stations(path, 2);
    const axes = frames(line);
    const length = path.reduce((sum, piece) => sum + piece.length, 0);
    const draw = (): readonly [Vec3, Vec3] => {
      const f = random() * (line.length - 1);
      const i = Math.min(line.length - 2, Math.floor(f));
      const angle = 2 * Math.PI * random();
      const [u, v] = axes[i] ?? [
        [0, 0, 0],
        [0, 0, 0],
      ];
      const [from, to] = [line[i]?.at ?? u, line[i + 1]?.at ?? u];
      const out = (k: 0 | 1 | 2): number => Math.cos(angle) * u[k] + Math.sin(angle) * v[k];
      const on = (k: 0 | 1 | 2): number => from[k] * (1 - f + i) + to[k] * (f - i) + radius * out(k);
      return [
        [on(0), on(1), on(2)],
        [out(0), out(1), out(2)],
      ];
    };
    return [{ weight: 2 * Math.PI * radius * length * density, draw }];
  };

const shapes: readonly Shape[] = [
  sheet(
    6,
    [-80, -14, -220],
    [
      [640, 0, 0],
      [0, 0, 300],
    ],
    2,
  ),
  block(1.2, [-80, -160, -520], [560, -30, -230]),
  sheet(
    1,
    [-220, 370, -560],
    [
      [1000, 0, 0],
      [0, 0, 700],
    ],
    9,
  ),
  sheet(
    0.5,
    [-240, -300, -560],
    [
      [0, 680, 0],
      [0, 0, 720],
    ],
    6,
  ),
  sheet(
    0.5,
    [800, -300, -560],
    [
      [0, 680, 0],
      [0, 0, 720],
    ],
    6,
  ),
  block(4, [-220, 285, -600], [800, 352, -470]),
  hose(
    14,
    [
      [250, 262, 140],
      [262, 258, -60],
      [300, 252, -560],
    ],
    400,
    11,
  ),
  hose(
    14,
    [
      [-60, 78, -215],
      [160, 78, -215],
    ],
    1,
    38,
  ),
  hose(
    14,
    [
      [-100, 200, 60],
      [120, 215, 70],
      [330, 205, 55],
      [640, 190, 90],
    ],
    60,
    14,
  ),
  hose(
    14,
    [
      [-160, 20, 90],
      [-120, 160, -60],
      [-90, 250, -300],
      [40, 262, -460],
    ],
    60,
    8,
  ),
  hose(
    14,
    [
      [640, 60, 80],
      [610, 120, -80],
      [600, 200, -300],
      [640, 260, -520],
    ],
    60,
    18,
  ),
  block(3, [560, 20, -330], [720, 170, -180]),
  sheet(
    0.4,
    [-240, -300, -660],
    [
      [1040, 0, 0],
      [0, 680, 0],
    ],
    12,
  ),
  sheet(
    1,
    [-60, -120, 95],
    [
      [600, 0, 0],
      [0, 110, 0],
    ],
    5,
  ),
  hose(
    14,
    [
      [330, 95, 60],
      [372, 150, 40],
      [395, 262, -20],
      [420, 300, -200],
    ],
    40,
    6,
  ),
  sheet(
    8,
    [-20, 215, -330],
    [
      [420, 20, 0],
      [0, 30, 260],
    ],
    3,
  ),
];

/** Whether a place is near the header, on a grid of 10 mm. */
function nearHeader(): (at: Vec3) => boolean {
  const [cell, low, count] = [10, [-260, -320, -700], [110, 75, 110]] as const;
  const grid = new Uint8Array(count[0] * count[1] * count[2]);
  const cellOf = (at: Vec3): Vec3 =>
    [0, 1, 2].map((k) => Math.floor(((at[k] ?? 0) - (low[k] ?? 0)) / cell)) as unknown as Vec3;
  const index = ([x, y, z]: Vec3): number =>
    x >= 0 && y >= 0 && z >= 0 && x < count[0] && y < count[1] && z < count[2] ? x + count[0] * (y + count[1] * z) : -1;
  const places = Array.from({ length: 6 }, (_, i) => stations(primaryPath(i), 5).map(({ at }) => at)).flat();
  for (let z = 0; z <= 230; z += 5) places.push([COLLECTOR[0], COLLECTOR[1], COLLECTOR[2] - z]);
  const reach = NEAR / cell;
  for (const [x, y, z] of places.map(cellOf))
    for (let k = -reach; k <= reach; k++)
      for (let j = -reach; j <= reach; j++)
        for (let i = -reach; i <= reach; i++) {
          const at = i * i + j * j + k * k > reach * reach ? -1 : index([x + i, y + j, z + k]);
          if (at >= 0) grid[at] = 1;
        }
  return (at) => grid[index(cellOf(at))] === 1;
}

/** Draws from the normal distribution in pairs (polar method). */
function normal(random: Random): () => number {
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const [x, y] = [2 * random() - 1, 2 * random() - 1];
      const r = x * x + y * y;
      if (r >= 1 || r === 0) continue;
      const by = Math.sqrt((-2 * Math.log(r)) / r);
      spare = y * by;
      return x * by;
    }
  };
}

/** Points of the bay, xyz in metres, single precision as a scan has them. */
export function bayPoints(count: number, seed: number): Float32Array<ArrayBuffer> {
  const [random, thin] = [seededRandom(seed), seededRandom(seed ^ 0x9e3779b9)];
  const [noise, near] = [normal(random), nearHeader()];
  const drawn = shapes.flatMap((shape) => shape(random));
  const kept = drawn.map(({ weight, draw }) => {
    let sum = 0;
    for (let i = 0; i < 2000; i++) sum += near(draw()[0]) ? 1 : FAR;
    return weight * (sum / 2000);
  });
  const total = kept.reduce((sum, one) => sum + one, 0);
  const points = new Float32Array(3 * count);
  let [n, share] = [0, 0];
  const put = (x: number, y: number, z: number): void => points.set([x / 1000, y / 1000, z / 1000], 3 * n++);
  drawn.forEach(({ draw }, i) => {
    share += kept[i] ?? 0;
    const end = Math.floor(((count - Math.floor(count * STRAYS)) * share) / total);
    while (n < end) {
      const [at, out] = draw();
      if (!near(at) && thin() >= FAR) continue;
      const off = noise() * SIGMA;
      put(at[0] + out[0] * off, at[1] + out[1] * off, at[2] + out[2] * off);
    }
  });
  while (n < count) put(-240 + 1040 * random(), 380 + (random() - 0.5) * 40, -660 + 800 * random());
  return points;
}
