import { pointAt } from '../geometry/centreline.ts';
import { distance, type Vec3 } from '../geometry/vector.ts';
import type { Element, Runner } from '../spec/spec.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import { runnerCentreline } from './centreline.ts';
import type { FactContext } from './context.ts';
import { angleBetween, directionAt } from './direction.ts';

/** Angle between the axis of the head port and the first leg of a runner, rad. */
export function portLeaveAngle(context: FactContext, runner: Runner): Known<number> {
  const { elevation, swing } = context.spec.port;
  return derive(
    {
      line: runnerCentreline(context, runner),
      elevation: at<number>('port.elevation', elevation),
      swing: at<number>('port.swing', swing),
    },
    ({ line, ...port }) => angleBetween(line.startTangent, portAxis(port)),
  );
}

/** Way the gas leaves the port: out of the head, turned along the flange by the swing, then up by the elevation. */
function portAxis(port: { readonly elevation: number; readonly swing: number }): Vec3 {
  const flat = Math.cos(port.elevation);
  return [flat * Math.sin(port.swing), flat * Math.cos(port.swing), Math.sin(port.elevation)];
}

/** Angle between the last leg of a runner and the outlet axis of the collector, rad. */
export function runnerOutletAngle(context: FactContext, runner: Runner): Known<number> {
  return derive(
    { line: runnerCentreline(context, runner), outlet: directionAt('outlet', context.spec.outlet) },
    ({ line, outlet }) => angleBetween(line.endTangent, outlet),
  );
}

/** How a runner's end misses the collector inlet of its cylinder. */
export interface InletMiss {
  /** Between the centres, metres. */
  readonly offset: number;
  /** Between the axes, rad. */
  readonly angle: number;
  /** Where the runner ends and where the inlet is, metres. */
  readonly end: Vec3;
  readonly inlet: Vec3;
}

/** Distance and angle between a runner's end and the collector inlet of its cylinder. */
export function inletMiss(context: FactContext, runner: Runner): Known<InletMiss> {
  const { inlets } = context.spec;
  const line = runnerCentreline(context, runner);
  return context.memo(`inlet-miss/${runner.id}`, [line, inlets, runner.cylinder], () =>
    derive({ line, place: inletOf(context, runner) }, (v) => {
      const end = pointAt(v.line, v.line.length);
      return {
        offset: distance(end, v.place.at),
        angle: angleBetween(v.line.endTangent, v.place.direction),
        end,
        inlet: v.place.at,
      };
    }),
  );
}

interface Place {
  readonly at: Vec3;
  readonly direction: Vec3;
}

function inletOf(context: FactContext, runner: Runner): Known<Place> {
  const { inlets } = context.spec;
  const path = `runners.${runner.id}.cylinder`;
  const served = Object.fromEntries(inlets.map((i) => [i.id, at<number>(`inlets.${i.id}.cylinder`, i.cylinder)]));
  return derive({ cylinder: at<number>(path, runner.cylinder), served: derive(served, known) }, (v): Known<Place> => {
    const mine = inlets.filter((i) => v.served[i.id] === v.cylinder);
    const [inlet] = mine;
    if (inlet && mine.length === 1) return placeOf(inlet);
    const detail = `expected one collector inlet for cylinder ${v.cylinder}, got ${mine.length}`;
    return unknown({ reason: 'inconsistent', detail, paths: [path, ...mine.map((i) => `inlets.${i.id}.cylinder`)] });
  });
}

function placeOf(inlet: Element<'inlets'>): Known<Place> {
  const path = `inlets.${inlet.id}`;
  return derive(
    {
      x: at<number>(`${path}.x`, inlet.x),
      y: at<number>(`${path}.y`, inlet.y),
      z: at<number>(`${path}.z`, inlet.z),
      direction: directionAt(path, inlet),
    },
    ({ x, y, z, direction }) => known({ at: [x, y, z], direction }),
  );
}
