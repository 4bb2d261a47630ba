/**
 * The demo job: an invented five-cylinder turbo hillclimb car, its header and its people. All data is invented.
 * Lengths in metres, other values SI. Some checks fail on purpose: the stud torque is too low, runner 1 passes the steering shaft too near, and
 * runner 3 is to be printed with its bore level.
 */
import { accessFields, jointPlace, sitsOf } from './access.ts';
import { flowFields, flowRows } from './flow.ts';
import { printFields, printRows } from './print.ts';
import { scanRows } from './scan.ts';
import { structureFields, structureRows } from './structure.ts';
import { jointWork, workFields, workRows } from './work.ts';

type Point = readonly [number, number, number];

const OD = 0.0424;
const RING = 0.0423;
const COLLECTOR: Point = [0, 0.263, -0.28];

const ring = (degrees: number): readonly [number, number] => [
  COLLECTOR[0] + RING * Math.cos((degrees * Math.PI) / 180),
  COLLECTOR[1] + RING * Math.sin((degrees * Math.PI) / 180),
];

interface RunnerPlan {
  readonly cylinder: number;
  /** Corners between port and collector inlet: place and bend radius. */
  readonly corners: readonly (readonly [Point, number])[];
  readonly inlet: readonly [number, number];
}

const PITCH = 0.092;
const portX = (cylinder: number): number => (cylinder - 3) * PITCH;

const plans: readonly RunnerPlan[] = [
  // Passes the steering shaft too near: one of the faults the demo is for. Raising its second node clears it.
  { cylinder: 1, inlet: ring(162), corners: outer(1, 162) },
  {
    cylinder: 2,
    inlet: ring(234),
    corners: [
      [[portX(2), 0.16, 0.05], 0.064],
      [[...ring(234), -0.068], 0.064],
    ],
  },
  {
    cylinder: 3,
    inlet: ring(90),
    corners: [
      [[0, 0.087, 0], 0.07],
      [[0, 0.16, 0.02], 0.07],
      [[...ring(90), 0], 0.07],
    ],
  },
  {
    cylinder: 4,
    inlet: ring(306),
    corners: [
      [[portX(4), 0.075, -0.115], 0.06],
      [[...ring(306), 0.031], 0.06],
    ],
  },
  { cylinder: 5, inlet: ring(18), corners: outer(5, 18) },
];

function outer(cylinder: number, degrees: number): RunnerPlan['corners'] {
  return [
    [[portX(cylinder), 0.16, -0.019], 0.064],
    [[...ring(degrees), -0.037], 0.064],
  ];
}

const round = (v: number): number => Number(v.toFixed(6));

function nodes(runner: string, plan: RunnerPlan): [string, unknown][] {
  const rows: readonly (readonly [Point, number | null])[] = [
    [[portX(plan.cylinder), 0, 0], null],
    ...plan.corners,
    [[plan.inlet[0], plan.inlet[1], COLLECTOR[2]], null],
  ];
  return rows.flatMap(([[x, y, z], radius], i) => {
    const path = `runners.${runner}.nodes.n${i + 1}`;
    const out: [string, unknown][] = [
      [path, i + 1],
      [`${path}.x`, round(x)],
      [`${path}.y`, round(y)],
      [`${path}.z`, round(z)],
    ];
    if (radius !== null) out.push([`${path}.radius`, radius]);
    return out;
  });
}

const kelvin = (celsius: number): number => celsius + 273.15;

const fields: Readonly<Record<string, unknown>> = {
  'project.title': 'Five-runner top-feed header',
  'project.car': 'Hillclimb coupe, 2.2 L five-cylinder turbo',
  'project.event': '2027-05-14',
  'engine.cylinders': 5,
  'engine.firingOrder': '1-2-4-5-3',
  'engine.displacement': { si: 0.002226, as: '2226 cc' },
  'engine.peakSpeed': { si: 6800 / 60, as: '6800 rpm' },
  'engine.volumetricEfficiency': 0.95,
  'engine.manifoldPressure': 230e3,
  'engine.manifoldTemperature': kelvin(50),
  'engine.lambda': 0.82,
  'engine.stoichiometricAirFuel': 14.7,
  'engine.exhaustTemperature': kelvin(930),
  'engine.exhaustPressure': 260e3,
  'engine.rock': 0.006,
  'tube.alloy': '625',
  'tube.outsideDiameter': OD,
  'tube.wall': 0.002,
  'tube.wallTemperature': kelvin(740),
  'tube.roughness': 60e-6,
  'collector.mergeLength': 0.11,
  'collector.outletDiameter': 0.0627,
  'flange.alloy': '625',
  'flange.temperature': kelvin(390),
  'flange.thickness': 0.012,
  'flange.holeDiameter': 0.0105,
  'flange.positionTolerance': 0.0001,
  'flange.datumHole': 'S5',
  'head.temperature': kelvin(110),
  'head.expansion': 22.5e-6,
  'stud.thread': 'M8',
  'stud.propertyClass': '10.9',
  'stud.torque': { si: 14, as: '14 Nm' },
  'stud.nutFactor': 0.15,
  'stud.temperature': kelvin(220),
  'turbo.mass': 7.4,
  'turbo.arm': 0.21,
  'turbo.dynamicFactor': 7,
  'turbo.unsupportedShare': 0.35,
  'turbo.sharingRunners': 5,
  'turbo.jointFactor': 1.7,
  'bay.scanUncertainty': 0.0008,
  ...accessFields,
  ...flowFields,
  ...structureFields,
  ...printFields,
  ...workFields,
};

const holes: readonly (readonly [string, number, number])[] = [1, 2, 3, 4, 5, 6].flatMap((n) => {
  const x = (n - 3.5) * PITCH;
  return [[`S${2 * n - 1}`, x, 0.034] as const, [`S${2 * n}`, x, -0.034] as const];
});

const components: readonly (readonly [string, string, string])[] = [
  ['block', 'Block side', 'bare-metal'],
  ['head-cover', 'Head cover', 'oil-backed-cover'],
  ['frame-rail', 'Frame rail', 'structure'],
  ['steering-shaft', 'Steering shaft', 'steering'],
  ['brake-line', 'Brake line', 'brake-line'],
  ['loom', 'Engine loom', 'wiring'],
  ['hood', 'Hood', 'painted-panel'],
];

const joints: readonly (readonly [string, string])[] = [1, 2, 3, 4, 5].map((n) => [
  `j${n}`,
  `Runner ${n} to collector`,
]);

function elements(): [string, unknown][] {
  const out: [string, unknown][] = [];
  const add = (path: string, order: number, values: Readonly<Record<string, unknown>>): void => {
    out.push(
      [path, order],
      ...Object.entries(values).map(([key, value]): [string, unknown] => [`${path}.${key}`, value]),
    );
  };
  plans.forEach((plan) => {
    const id = `r${plan.cylinder}`;
    add(`runners.${id}`, plan.cylinder, { name: `Runner ${plan.cylinder}`, cylinder: plan.cylinder });
    out.push(...nodes(id, plan));
  });
  for (const [i, [name, x, z]] of holes.entries()) add(`holes.${name.toLowerCase()}`, i + 1, { name, x: round(x), z });
  for (const [i, [id, name, heatClass]] of components.entries())
    add(`components.${id}`, i + 1, { name, heatClass, sits: sitsOf(id) });
  for (const [i, [id, name]] of joints.entries()) {
    const current = i === 3 ? 78 : 56;
    add(`joints.${id}`, i + 1, {
      name,
      wall: 0.002,
      current,
      voltage: 10.8,
      travelSpeed: 0.0017,
      ...jointPlace(i + 1),
      ...jointWork(i + 1),
    });
  }
  add('purges.header', 1, {
    name: 'Whole header',
    volume: 0.0041,
    flow: 12 / 60000,
    target: 100e-6,
    residual: 7e-6,
    deadLegFactor: 2,
    prePurge: 240,
  });
  const ends = plans.map(
    ({ cylinder, inlet }) => [cylinder, [round(inlet[0]), round(inlet[1]), COLLECTOR[2]]] as const,
  );
  // The outermost two: the flange is put on over them.
  const studs = [holes[0], holes.at(-1)].flatMap((one) => (one ? [{ hole: one[0], x: one[1], z: one[2] }] : []));
  scanRows(
    plans.map(({ cylinder }) => [cylinder, round(portX(cylinder))] as const),
    studs,
  ).forEach(([branch, id, values], i) => {
    add(`${branch}.${id}`, i + 1, values);
  });
  flowRows(ends).forEach(([branch, id, values], i) => {
    add(`${branch}.${id}`, i + 1, values);
  });
  structureRows.forEach(([branch, id, values], i) => {
    add(`${branch}.${id}`, i + 1, values);
  });
  printRows.forEach(([branch, id, values], i) => {
    add(`${branch}.${id}`, i + 1, values);
  });
  workRows.forEach(([branch, id, values], i) => {
    add(`${branch}.${id}`, i + 1, values);
  });
  return out;
}

/** Component ids, in the order of the spec. */
export const demoComponents: readonly string[] = components.map(([id]) => id);

/** Entries of the demo spec. `scans` and `parts` give the content hash of each component's points and each piece's shape, in millimetres. */
export function demoSpec(
  scans: ReadonlyMap<string, string>,
  parts: ReadonlyMap<string, string> = new Map(),
): ReadonlyMap<string, unknown> {
  const entries = new Map<string, unknown>([...Object.entries(fields), ...elements()]);
  for (const [id, sha] of scans) {
    entries.set(`components.${id}.scan`, sha);
    entries.set(`components.${id}.scanUnit`, 'mm');
  }
  for (const [id, sha] of parts) {
    entries.set(`pieces.${id}.mesh`, sha);
    entries.set(`pieces.${id}.meshUnit`, 'mm');
  }
  return entries;
}
