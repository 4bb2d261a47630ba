import type { CentrelineNode, CentrelineProblem } from '../../../shared/geometry/centreline.ts';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import type { MeasureProblem, TubeShape } from '../../../shared/geometry/measurement.ts';

/** A tube ready to measure, or why it is none. */
export type BuiltTube =
  | { readonly ok: true; readonly tube: TubeReach }
  | { readonly ok: false; readonly problem: MeasureProblem };

const failed = (code: string, message: string): BuiltTube => ({ ok: false, problem: { code, message } });

/** Builds the tube a job describes. */
export function builtTube({ nodes, outerRadius, fromS }: TubeShape): BuiltTube {
  if (!(outerRadius > 0 && outerRadius < 1) || !(fromS >= 0)) {
    return failed(
      'bad-tube',
      `Expected an outer radius in 0..1 m and a start of 0 m or more, got ${outerRadius} m and ${fromS} m.`,
    );
  }
  if (nodes.length % 4 !== 0)
    return failed('bad-tube', `Expected four numbers a node (x, y, z, bend radius), got ${nodes.length} in all.`);
  const centreline = buildCentreline(nodesOf(nodes));
  if (!centreline.ok) return failed(centreline.code, inWords(centreline));
  if (fromS >= centreline.length) {
    return failed(
      'nothing-to-measure',
      `Expected a start before the end of the centreline at ${centreline.length.toFixed(4)} m, got ${fromS} m.`,
    );
  }
  return { ok: true, tube: { centreline, outerRadius, fromS } };
}

/** All tubes, or the problem of the first that is none. */
export function builtTubes(
  shapes: readonly TubeShape[],
):
  | { readonly ok: true; readonly tubes: readonly TubeReach[] }
  | { readonly ok: false; readonly problem: MeasureProblem } {
  const tubes: TubeReach[] = [];
  for (const shape of shapes) {
    const built = builtTube(shape);
    if (!built.ok) return built;
    tubes.push(built.tube);
  }
  return { ok: true, tubes };
}

function nodesOf(flat: readonly number[]): CentrelineNode[] {
  const nodes: CentrelineNode[] = [];
  for (let i = 0; i + 3 < flat.length; i += 4) {
    const [x = Number.NaN, y = Number.NaN, z = Number.NaN, radius = Number.NaN] = flat.slice(i, i + 4);
    nodes.push({ x, y, z, radius });
  }
  return nodes;
}

/** Nodes are counted from 1 here, as in the table a person sees. */
function inWords(problem: CentrelineProblem): string {
  switch (problem.code) {
    case 'too-few-nodes':
      return `Expected at least two nodes, got ${problem.count}.`;
    case 'not-finite':
      return `Expected finite coordinates and bend radius at node ${problem.node + 1}.`;
    case 'coincident':
      return `Expected node ${problem.node + 1} apart from the one before, they are ${problem.distance} m apart.`;
    case 'no-radius':
      return `Expected a bend radius above 0 at node ${problem.node + 1}, got ${problem.radius} m.`;
    case 'reversal':
      return `Expected a turn below 180 degrees at node ${problem.node + 1}, the centreline goes straight back there.`;
    case 'bend-does-not-fit':
      return `The bend at node ${problem.node + 1} needs ${problem.setback.toFixed(4)} m of straight, there is ${problem.available.toFixed(4)} m.`;
  }
}
