import { tubeToTube } from '../geometry/distance.ts';
import { along, subtract, unit, type Vec3 } from '../geometry/vector.ts';
import type { Runner } from '../spec/spec.ts';
import { formatSi } from '../units/format.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import { runnerCentreline } from './centreline.ts';
import type { FactContext } from './context.ts';
import { runnerOuterRadius } from './tube.ts';

/** Smallest distance between the outsides of two runners, metres, negative when they run into each other, and where. */
export interface RunnerGap {
  readonly gap: number;
  /** Arc length from the port of the first runner. */
  readonly s: number;
  /** On the outside of the first and of the second runner. */
  readonly at: Vec3;
  readonly to: Vec3;
}

/** Gap between two runners ahead of the merge: the last `collector.mergeLength` of each is left out, there they may touch. */
export function runnerGap(context: FactContext, a: Runner, b: Runner): Known<RunnerGap> {
  const merge = at<number>('collector.mergeLength', context.spec.collector.mergeLength);
  const radius = runnerOuterRadius(context);
  const lineA = runnerCentreline(context, a);
  const lineB = runnerCentreline(context, b);
  const deps = [lineA, lineB, context.spec.collector.mergeLength, context.spec.tube.outsideDiameter];
  return context.memo(`runner-gap/${a.id}~${b.id}`, deps, () =>
    derive({ lineA, lineB, merge, radius }, (v): Known<RunnerGap> => {
      const limits = { a: { toS: v.lineA.length - v.merge }, b: { toS: v.lineB.length - v.merge } };
      const near = tubeToTube(v.lineA, v.lineB, limits);
      if (!near) {
        const shorter = Math.min(v.lineA.length, v.lineB.length);
        const [most, came] = [formatSi('length', shorter), formatSi('length', v.merge)];
        const detail = `expected a merge length under the length of the shorter runner (${most}), got ${came}`;
        return unknown({ reason: 'inconsistent', detail, paths: ['collector.mergeLength'] });
      }
      const way = near.distance > 0 ? unit(subtract(near.pointB, near.pointA)) : v.lineA.startTangent;
      return known({
        gap: near.distance - 2 * v.radius,
        s: near.sA,
        at: along(near.pointA, way, v.radius),
        to: along(near.pointB, way, -v.radius),
      });
    }),
  );
}
