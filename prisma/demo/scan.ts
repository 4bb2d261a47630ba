/** Datum points and points picked on ports and studs of the demo job. All data is invented; metres. Everything here passes. */

type Place = readonly [number, number, number];

/** Name, place on the car, and by how much the scan has it elsewhere, micrometres. */
const targets: readonly (readonly [string, string, Place, Place])[] = [
  ['head-front', 'Head, front dowel', [-0.276, -0.004, 0.052], [60, -110, 40]],
  ['head-rear', 'Head, rear dowel', [0.276, -0.004, 0.052], [-90, 50, 120]],
  ['strut', 'Strut tower bolt', [0.462, 0.318, 0.204], [130, 80, -60]],
  ['rail', 'Frame rail hole', [-0.418, 0.455, -0.241], [-70, -120, 90]],
  ['latch', 'Hood latch stud', [-0.037, 0.512, 0.287], [20, 140, -100]],
];

/** Distances of six picked points from a perfect rim, micrometres: out of the circle, and off the face. */
const picks: readonly (readonly [out: number, off: number])[] = [
  [40, -20],
  [-60, 30],
  [20, 50],
  [70, -40],
  [-30, 10],
  [-50, -30],
];

/** Radius of a round port of the demo's area, 1080 mm2. */
const RIM = 0.018541;
const um = 1e-6;
const round = (v: number): number => Number(v.toFixed(7));

function portRows(
  cylinder: number,
  x: number,
): readonly (readonly [string, string, Readonly<Record<string, unknown>>])[] {
  return picks.map(([out, off], i) => {
    // Each port is picked from another place on, so that no two have the same numbers.
    const turn = (Math.PI / 3) * i + 0.2 * cylinder;
    const radius = RIM + out * um;
    const name = `Port ${cylinder}, point ${i + 1}`;
    const at = { x: round(x + radius * Math.cos(turn)), y: off * um, z: round(radius * Math.sin(turn)) };
    return ['portPoints', `p${cylinder}-${i + 1}`, { name, cylinder, picked: 'rim', ...at }];
  });
}

/** Distances of eight picked points from the side of a stud, micrometres: threads are in the way. */
const onThread: readonly number[] = [60, -80, 40, -30, 90, -70, 20, -40];
/** Outside of an M8 thread and its core in the middle. */
const STUD = 0.0036;

interface Stud {
  readonly hole: string;
  readonly x: number;
  readonly z: number;
}

function studRows(
  { hole, x, z }: Stud,
  first: number,
): readonly (readonly [string, string, Readonly<Record<string, unknown>>])[] {
  return onThread.map((out, i) => {
    const turn = (Math.PI / 4) * i + 0.1 * first;
    const radius = STUD + out * um;
    const at = {
      x: round(x + radius * Math.cos(turn)),
      y: 0.012 + 0.003 * (i % 4),
      z: round(z + radius * Math.sin(turn)),
    };
    return [
      'studPoints',
      `${hole.toLowerCase()}-${i + 1}`,
      { name: `Stud ${hole}, point ${i + 1}`, stud: hole, ...at },
    ];
  });
}

/** Rows of the collections, for ports that stand at these places along the flange and studs that somebody picked. */
export function scanRows(
  ports: readonly (readonly [cylinder: number, x: number])[],
  studs: readonly Stud[],
): readonly (readonly [string, string, Readonly<Record<string, unknown>>])[] {
  return [
    ...targets.map(([id, name, [x, y, z], [dx, dy, dz]]) => {
      const scan = { scanX: round(x + dx * um), scanY: round(y + dy * um), scanZ: round(z + dz * um) };
      return ['datums', id, { name, ...scan, carX: x, carY: y, carZ: z }] as const;
    }),
    ...ports.flatMap(([cylinder, x]) => portRows(cylinder, x)),
    ...studs.flatMap(studRows),
  ];
}
