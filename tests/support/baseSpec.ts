import { readSpec } from '../../shared/spec/reader.ts';
import type { Spec } from '../../shared/spec/spec.ts';

/** A small spec in which every rule passes comfortably: two runners of the same plane bend, one component, hole, joint and purge volume. */
const base: Readonly<Record<string, unknown>> = {
  'project.title': 'Test header',
  'engine.cylinders': 2,
  'engine.firingOrder': '1-2',
  'engine.displacement': 0.0008,
  'engine.peakSpeed': 100,
  'engine.volumetricEfficiency': 0.95,
  'engine.manifoldPressure': 180e3,
  'engine.manifoldTemperature': 320,
  'engine.lambda': 0.85,
  'engine.stoichiometricAirFuel': 14.7,
  'engine.exhaustTemperature': 1173.15,
  'engine.exhaustPressure': 200e3,
  'engine.rock': 0.004,
  'tube.alloy': '625',
  'tube.outsideDiameter': 0.0445,
  'tube.wall': 0.002,
  'tube.wallTemperature': 973.15,
  'tube.roughness': 45e-6,
  'collector.mergeLength': 0.05,
  'collector.outletDiameter': 0.06,
  'flange.alloy': '625',
  'flange.temperature': 673.15,
  'flange.thickness': 0.01,
  'flange.holeDiameter': 0.009,
  'flange.positionTolerance': 0.0001,
  'flange.datumHole': 'S1',
  'head.temperature': 383.15,
  'head.expansion': 22.5e-6,
  'stud.thread': 'M8',
  'stud.propertyClass': '10.9',
  'stud.torque': 20,
  'stud.nutFactor': 0.15,
  'stud.temperature': 473.15,
  'turbo.mass': 6,
  'turbo.arm': 0.15,
  'turbo.dynamicFactor': 6,
  'turbo.unsupportedShare': 0.5,
  'turbo.sharingRunners': 2,
  'turbo.jointFactor': 1.5,
  'bay.scanUncertainty': 0.0005,
  'runners.r1': 1,
  'runners.r1.name': 'Runner 1',
  'runners.r1.cylinder': 1,
  'runners.r2': 2,
  'runners.r2.name': 'Runner 2',
  'runners.r2.cylinder': 2,
  ...node('r1', 'n1', 1, [0, 0, 0]),
  ...node('r1', 'n2', 2, [0, 0.15, 0], 0.08),
  ...node('r1', 'n3', 3, [0, 0.15, 0.25]),
  ...node('r2', 'n1', 1, [0.1, 0, 0]),
  ...node('r2', 'n2', 2, [0.1, 0.15, 0], 0.08),
  ...node('r2', 'n3', 3, [0.1, 0.15, 0.25]),
  'holes.s1': 1,
  'holes.s1.name': 'S1',
  'holes.s1.x': 0,
  'holes.s1.z': 0.03,
  'holes.s2': 2,
  'holes.s2.name': 'S2',
  'holes.s2.x': 0.05,
  'holes.s2.z': 0.03,
  'components.c1': 1,
  'components.c1.name': 'Frame rail',
  'components.c1.heatClass': 'structure',
  'components.c1.scan': 'a'.repeat(64),
  'components.c1.scanUnit': 'mm',
  'joints.j1': 1,
  'joints.j1.name': 'Runner 1 to collector',
  'joints.j1.wall': 0.002,
  'joints.j1.current': 55,
  'joints.j1.voltage': 10.5,
  'joints.j1.travelSpeed': 0.0016,
  'purges.p1': 1,
  'purges.p1.name': 'Whole header',
  'purges.p1.volume': 0.004,
  'purges.p1.flow': 15 / 60000,
  'purges.p1.target': 100e-6,
  'purges.p1.residual': 7e-6,
  'purges.p1.deadLegFactor': 1.5,
  'purges.p1.prePurge': 300,
};

function node(
  runner: string,
  id: string,
  order: number,
  at: readonly [number, number, number],
  radius?: number,
): Record<string, unknown> {
  const path = `runners.${runner}.nodes.${id}`;
  return {
    [path]: order,
    [`${path}.x`]: at[0],
    [`${path}.y`]: at[1],
    [`${path}.z`]: at[2],
    ...(radius !== undefined && { [`${path}.radius`]: radius }),
  };
}

/** Entries of the base spec with some replaced; undefined removes one. */
export function baseEntries(overrides: Readonly<Record<string, unknown>> = {}): Map<string, unknown> {
  const entries = new Map(Object.entries(base));
  for (const [path, value] of Object.entries(overrides)) {
    if (value === undefined) entries.delete(path);
    else entries.set(path, value);
  }
  return entries;
}

/** The base spec with some entries replaced; undefined removes one. */
export function makeSpec(overrides: Readonly<Record<string, unknown>> = {}): Spec {
  return readSpec(baseEntries(overrides));
}
