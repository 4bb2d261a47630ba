import type {
  PartGapResult,
  StraightOffResult,
  ToolReachResult,
  TorchReachResult,
} from '../geometry/accessMeasurement.ts';
import type { TubeShape } from '../geometry/measurement.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { BayComponent, Element, Spec, StudHole } from '../spec/spec.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { pieceMesh } from './pieceMesh.ts';
import { piecesOnCar } from './piecesToPrint.ts';
import { scanOnCar } from './placing.ts';
import { headerTubes } from './tubeShapes.ts';

/** Away from the head, along the studs. */
const offTheHead: Vec3 = [0, 1, 0];
/** How much more than asked is looked at, so that a little too much room reads as such, metres (own). */
const beyond = 0.02;

/** Meshes of all pieces on the car, by name; a piece without one is missing. */
function pieceMeshes({ spec, memo }: FactContext): Known<readonly string[]> {
  return memo('piece-meshes', [spec.pieces, spec.route], () => {
    const named = Object.fromEntries(piecesOnCar(spec).map((piece) => [piece.id, pieceMesh(piece)]));
    return derive({ named: derive(named, (all) => [...new Set(Object.values(all))].sort()) }, (v) => v.named);
  });
}

/** Scans of all bay components, by name; a component without one is missing. */
function bayScans(context: FactContext): Known<readonly string[]> {
  const {
    spec: { components },
    memo,
  } = context;
  const named = Object.fromEntries(components.map((one) => [one.id, scanOnCar(context, one)]));
  return memo('bay-scans', Object.values(named), () => {
    return derive({ named: derive(named, (all) => [...new Set(Object.values(all))].sort()) }, (v) => v.named);
  });
}

/** Smallest distance between a piece and a bay component, measured by a worker. */
export function partGap(context: FactContext, piece: Element<'pieces'>, component: BayComponent): Known<PartGapResult> {
  const { flange } = context.spec;
  const scan = scanOnCar(context, component);
  const deps = [piece.mesh, piece.meshUnit, scan, flange.thickness];
  const job = context.memo(`part-gap-job/${piece.id}~${component.id}`, deps, () =>
    derive(
      {
        mesh: pieceMesh(piece),
        scan,
        fromY: at<number>('flange.thickness', flange.thickness),
      },
      (v) => ({ kind: 'partGap', ...v }) as const,
    ),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}

/** Free length of the socket on the fastener of a hole, measured by a worker. Twice the socket is looked at. */
export function socketReach(context: FactContext, hole: StudHole): Known<ToolReachResult> {
  const { tools, flange } = context.spec;
  const around = surroundings(context);
  const deps = [around, hole, tools, flange.thickness, flange.holeDiameter];
  const job = context.memo(`socket-job/${hole.id}`, deps, () =>
    derive(
      {
        around,
        x: at<number>(`holes.${hole.id}.x`, hole.x),
        z: at<number>(`holes.${hole.id}.z`, hole.z),
        y: at<number>('flange.thickness', flange.thickness),
        socket: at<number>('tools.socket', tools.socket),
        length: at<number>('tools.socketLength', tools.socketLength),
        stickOut: at<number>('tools.stickOut', tools.stickOut),
        hole: at<number>('flange.holeDiameter', flange.holeDiameter),
      },
      (v) =>
        ({
          kind: 'toolReach',
          ...v.around,
          from: [v.x, v.y, v.z],
          way: offTheHead,
          radius: v.socket / 2,
          stud: { radius: v.hole / 2, depth: v.stickOut },
          reach: 2 * v.length,
        }) as const,
    ),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}

/** Free travel of the whole header along the studs, measured by a worker; looked at a little beyond the stick-out and what is asked more. */
export function travelOffHead(context: FactContext, more: number): Known<StraightOffResult> {
  const { tools } = context.spec;
  const around = surroundings(context);
  const job = context.memo('straight-off-job', [around, tools.stickOut, more], () =>
    derive(
      { around, stickOut: at<number>('tools.stickOut', tools.stickOut) },
      (v) => ({ kind: 'straightOff', ...v.around, way: offTheHead, reach: v.stickOut + more + beyond }) as const,
    ),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}

interface Surroundings {
  readonly tubes: readonly TubeShape[];
  readonly meshes: readonly string[];
  readonly scans: readonly string[];
}

function surroundings(context: FactContext): Known<Surroundings> {
  const [tubes, meshes, scans] = [headerTubes(context), pieceMeshes(context), bayScans(context)];
  return context.memo('surroundings', [tubes, meshes, scans], () => derive({ tubes, meshes, scans }, (v) => v));
}

/** Places looked at round a seam (own: one every 13 degrees). */
const SEAM_PLACES = 28;

/** How much of a joint a torch gets at with what is there when it is welded, measured by a worker. */
export function jointReach(context: FactContext, joint: Element<'joints'>): Known<TorchReachResult> {
  const { tools, joints, runners } = context.spec;
  const [tubes, meshes] = [headerTubes(context), pieceMeshes(context)];
  const deps = [tubes, meshes, tools, joints, runners];
  const job = context.memo(`torch-job/${joint.id}`, deps, () =>
    derive(
      {
        tubes,
        meshes,
        there: tubesThere(context.spec, joint),
        s: at<number>(`joints.${joint.id}.along`, joint.along),
        standOff: at<number>('tools.standOff', tools.standOff),
        cup: at<number>('tools.cup', tools.cup),
        cupLength: at<number>('tools.cupLength', tools.cupLength),
        body: at<number>('tools.torch', tools.torch),
        bodyLength: at<number>('tools.torchLength', tools.torchLength),
        lean: at<number>('tools.lean', tools.lean),
      },
      (v) => {
        const { standOff, cupLength, bodyLength, lean } = v;
        const torch = { standOff, cupRadius: v.cup / 2, cupLength, bodyRadius: v.body / 2, bodyLength };
        const seam = { tube: 0, s: v.s };
        return {
          kind: 'torchReach',
          tubes: v.there.flatMap((i) => v.tubes[i] ?? []),
          meshes: v.meshes,
          seam,
          torch,
          lean,
          places: SEAM_PLACES,
        } as const;
      },
    ),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}

/** Places among all runners of those that are there when a joint is welded, its own first: the others but those with a joint that comes later. */
function tubesThere({ runners, joints }: Spec, joint: Element<'joints'>): Known<readonly number[]> {
  const path = `joints.${joint.id}.cylinder`;
  const served = Object.fromEntries(runners.map((r) => [r.id, at<number>(`runners.${r.id}.cylinder`, r.cylinder)]));
  return derive(
    { cylinder: at<number>(path, joint.cylinder), served: derive(served, known) },
    (v): Known<readonly number[]> => {
      const later = joints.filter(({ turn }) => turn !== undefined && joint.turn !== undefined && turn > joint.turn);
      const absent = new Set(later.map(({ cylinder }) => cylinder));
      const cylinders = runners.map(({ id }) => v.served[id]);
      const own = cylinders.flatMap((cylinder, i) => (cylinder === v.cylinder ? [i] : []));
      const others = cylinders.flatMap((cylinder, i) => (own.includes(i) || absent.has(cylinder) ? [] : [i]));
      if (own.length === 1) return known([...own, ...others]);
      const detail = `expected a cylinder with one runner, got ${v.cylinder} with ${own.length}`;
      return unknown({ reason: 'inconsistent', detail, paths: [path] });
    },
  );
}
