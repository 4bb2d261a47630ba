import type { TubeShape } from '../geometry/measurement.ts';
import type { Runner, Spec } from '../spec/spec.ts';
import { at, derive, type Known, unknown } from '../units/known.ts';
import { nodeTable, runnerCentreline } from './centreline.ts';
import { type FactContext, unmeasured } from './context.ts';
import { runnerOuterRadius } from './tube.ts';

/** A runner as measurements take it, from beyond the flange on: what lies inside the flange is the head's own port and would read as a contact. */
export function tubeShape(context: FactContext, runner: Runner): Known<TubeShape> {
  const { flange, tube } = context.spec;
  const deps = [runner.nodes, flange.thickness, tube.outsideDiameter];
  return context.memo(`tube-shape/${runner.id}`, deps, () =>
    derive(
      {
        // The centreline is asked for first: a table that describes none is not worth a worker's time.
        line: runnerCentreline(context, runner),
        table: nodeTable(runner),
        outerRadius: runnerOuterRadius(context),
        fromS: at<number>('flange.thickness', flange.thickness),
      },
      ({ table, outerRadius, fromS }): TubeShape => ({
        nodes: table.flatMap(({ x, y, z, radius }) => [x, y, z, radius]),
        outerRadius,
        fromS,
      }),
    ),
  );
}

/** All runners together, in their order: the header's envelope as far as it is tubes. Without a runner: missing. */
export function headerTubes(context: FactContext): Known<readonly TubeShape[]> {
  const { runners, flange, tube } = context.spec;
  return context.memo('header-tubes', [runners, flange.thickness, tube.outsideDiameter], () => {
    if (runners.length === 0) return unknown({ reason: 'missing', paths: ['runners'] });
    const shapes = Object.fromEntries(runners.map((runner) => [runner.id, tubeShape(context, runner)]));
    return derive(shapes, (made) => Object.values(made));
  });
}

/** The runners of a spec as tubes, as far as they can be told: those whose table describes no line are left out. */
export function runnerTubes(spec: Spec): readonly TubeShape[] {
  const context = unmeasured(spec);
  return spec.runners.flatMap((runner) => {
    const tube = tubeShape(context, runner);
    return tube.known ? [tube.value] : [];
  });
}
