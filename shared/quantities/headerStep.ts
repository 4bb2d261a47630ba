import { type NamedTube, stepOfTubes } from '../geometry/step/stepOfTubes.ts';
import type { Spec } from '../spec/spec.ts';
import { derive, type Known, known, unknown } from '../units/known.ts';
import { tubeCentreline } from './centreline.ts';
import { unmeasured } from './context.ts';
import { runnerBore, runnerOuterRadius } from './tube.ts';

/**
 * The runners of a spec as a STEP file: exact tubes in header coordinates, each with the name of its runner.
 * @param time when it is written, ISO 8601
 */
export function headerStep(spec: Spec, time: string): Known<string> {
  const context = unmeasured(spec);
  if (spec.runners.length === 0) return unknown({ reason: 'missing', paths: ['runners'] });
  const lines = Object.fromEntries(spec.runners.map((runner) => [runner.id, tubeCentreline(context, runner)]));
  return derive(
    { lines: derive(lines, known), outerRadius: runnerOuterRadius(context), bore: runnerBore(context) },
    ({ lines: found, outerRadius, bore }): Known<string> => {
      const tubes = spec.runners.flatMap(({ id, name = id }): NamedTube[] => {
        const centreline = found[id];
        return centreline ? [{ centreline, outerRadius, innerRadius: bore / 2, name }] : [];
      });
      return known(stepOfTubes(tubes, { name: spec.project.title ?? 'Header', time }));
    },
  );
}
