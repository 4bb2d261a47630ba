import { distance, type Vec3 } from '../geometry/vector.ts';
import type { Runner, RunnerNode } from '../spec/spec.ts';
import { freeGrowth } from '../trade/strength/free-growth.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { type MetalPart, metalProperty, ownMaterialOf } from './metal.ts';

/** Temperature everything was made at, K. */
const cold = 293.15;

/** How far a runner is pushed sideways when hot, and over what leg. */
export interface Sway {
  /** Sideways movement between the ends, metres. */
  readonly sway: number;
  /** Distance between the ends across the movement, metres. */
  readonly reach: number;
}

/**
 * The runners and the collector grow more than the cooler flange that holds the port spacing: each port is left behind by the
 * difference of strain times its distance from the mean of all ports. Own derivation: one wall temperature, collector free to move.
 */
export function runnerSway(context: FactContext, runner: Runner): Known<Sway> {
  const { runners, tube, flange } = context.spec;
  const hot = [tube.wallTemperature, flange.temperature];
  const metals = [tube.alloy, flange.alloy, ownMaterialOf(context, 'tube'), ownMaterialOf(context, 'flange')];
  // Only the ends count: a node moved between them pushes no runner elsewhere.
  const ends = runners.flatMap((each): readonly unknown[] =>
    each.nodes.length > 1 ? [each.id, each.nodes[0], each.nodes.at(-1)] : [each],
  );
  const deps = [...ends, runner.id, ...hot, ...metals];
  return context.memo(`sway/${runner.id}`, deps, () =>
    derive(
      {
        ends: endsOf(runner),
        middle: meanPort(runners),
        wallStrain: hotStrain(context, 'tube', at('tube.wallTemperature', tube.wallTemperature)),
        flangeStrain: hotStrain(context, 'flange', at('flange.temperature', flange.temperature)),
      },
      ({ ends, middle, wallStrain, flangeStrain }) => known(swayOf(ends, middle, wallStrain - flangeStrain)),
    ),
  );
}

/** Distance from the middle of all ports to the collector end of a runner, metres. */
export function endFromPorts(context: FactContext, runner: Runner): Known<number> {
  const { runners } = context.spec;
  return derive({ ends: endsOf(runner), middle: meanPort(runners) }, ({ ends, middle }) =>
    distance(ends.collector, middle),
  );
}

interface Ends {
  readonly port: Vec3;
  readonly collector: Vec3;
}

function swayOf({ port, collector }: Ends, middle: Vec3, strain: number): Sway {
  const out: Vec3 = [port[0] - middle[0], port[1] - middle[1], port[2] - middle[2]];
  const off = Math.hypot(...out);
  const line: Vec3 = [collector[0] - port[0], collector[1] - port[1], collector[2] - port[2]];
  const along = off > 0 ? (line[0] * out[0] + line[1] * out[1] + line[2] * out[2]) / off : 0;
  const reach = Math.sqrt(Math.max(0, Math.hypot(...line) ** 2 - along ** 2));
  return { sway: Math.abs(strain) * off, reach };
}

/** Growth of a metre from cold, as a strain. */
function hotStrain(context: FactContext, part: MetalPart, temperature: Known<number>): Known<number> {
  return derive({ expansion: metalProperty(context, part, 'expansion', temperature), temperature }, (v) =>
    freeGrowth.evaluate({ ...v, length: 1, referenceTemperature: cold }),
  );
}

function endsOf(runner: Runner): Known<Ends> {
  const [first, last] = [runner.nodes[0], runner.nodes.at(-1)];
  if (first && last && first !== last)
    return derive({ port: place(runner, first), collector: place(runner, last) }, (v) => known(v));
  const detail = `expected at least 2 nodes, got ${runner.nodes.length}`;
  return unknown({ reason: 'inconsistent', detail, paths: [`runners.${runner.id}`] });
}

/** Middle of all ports, metres. */
function meanPort(runners: readonly Runner[]): Known<Vec3> {
  const ports = Object.fromEntries(runners.map((runner) => [runner.id, endsOf(runner)]));
  return derive(ports, (ends): Known<Vec3> => {
    const mean = (axis: 0 | 1 | 2) =>
      Object.values(ends).reduce((sum, { port }) => sum + port[axis], 0) / runners.length;
    return known([mean(0), mean(1), mean(2)]);
  });
}

function place(runner: Runner, node: RunnerNode): Known<Vec3> {
  const path = `runners.${runner.id}.nodes.${node.id}`;
  return derive(
    {
      x: at<number>(`${path}.x`, node.x),
      y: at<number>(`${path}.y`, node.y),
      z: at<number>(`${path}.z`, node.z),
    },
    ({ x, y, z }): Known<Vec3> => known([x, y, z]),
  );
}

/** Free stroke of the slip joints of a runner together, metres; null when it has none. */
export function slipStroke(context: FactContext, runner: Runner): Known<number | null> {
  const { slipJoints } = context.spec;
  if (slipJoints.length === 0) return known(null);
  const served = derive(
    Object.fromEntries(slipJoints.map((j) => [j.id, at<number>(`slipJoints.${j.id}.cylinder`, j.cylinder)])),
    (v) => known(v),
  );
  const cylinder = at<number>(`runners.${runner.id}.cylinder`, runner.cylinder);
  return derive({ served, cylinder }, (v): Known<number | null> => {
    const mine = slipJoints.filter((joint) => v.served[joint.id] === v.cylinder);
    if (mine.length === 0) return known(null);
    const strokes = Object.fromEntries(mine.map((j) => [j.id, at<number>(`slipJoints.${j.id}.stroke`, j.stroke)]));
    return derive(strokes, (all) => Object.values(all).reduce((sum, stroke) => sum + stroke, 0));
  });
}

/** Free growth of a runner of this length at wall temperature, metres. */
export function runnerFreeGrowth(context: FactContext, length: Known<number>): Known<number> {
  const { tube } = context.spec;
  const strain = hotStrain(context, 'tube', at('tube.wallTemperature', tube.wallTemperature));
  return derive({ length, strain }, (v) => v.length * v.strain);
}
