import { pointOfPlace } from '../../../shared/geometry/anchor.ts';
import { buildCentreline, type Centreline } from '../../../shared/geometry/centreline.ts';
import { movedBy } from '../../../shared/geometry/motion.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import type { Thread } from '../../../shared/markup/markup.ts';
import { componentBox } from '../../../shared/quantities/placing.ts';
import type { Limit } from '../../../shared/rules/outcome.ts';
import type { Verdict } from '../../../shared/rules/verdict.ts';
import type { Runner, Spec } from '../../../shared/spec/spec.ts';
import { formatSi } from '../../../shared/units/format.ts';
import type { BayView } from '../../scene/bayScene.ts';
import type { FlangeView } from '../../scene/flange.ts';
import type { HandleView } from '../../scene/handles.ts';
import type { RunnerView } from '../../scene/header.ts';
import type { LabelView } from '../../scene/labels.ts';
import type { LeaderView } from '../../scene/leaders.ts';
import type { NearLook } from '../../scene/nearLook.ts';
import type { PartMesh } from '../../scene/partMesh.ts';
import type { PieceView } from '../../scene/piece.ts';
import type { ScanView, ShownTiles } from '../../scene/scan.ts';
import { placingOf } from '../../state/placing.ts';
import type { Focus } from '../../state/project.ts';
import type { ShownVerdict } from '../../state/verdicts.ts';
import type { Aim } from '../job/context.ts';

/** What the bay is made from. */
export interface BayInputs {
  readonly spec: Spec;
  readonly verdicts: ReadonlyMap<string, ShownVerdict>;
  readonly threads: readonly Thread[];
  readonly focus: Focus | null;
  readonly chosenRunner: string | null;
  readonly canEdit: boolean;
  /** Tiles of the components that have a scan, by component id. */
  readonly tiles: ReadonlyMap<string, ShownTiles>;
  /** How near the header is to them, by component id; empty for components in their own colours. */
  readonly looks: ReadonlyMap<string, NearLook>;
  /** Surfaces of the pieces that have a part, by piece id. */
  readonly meshes: ReadonlyMap<string, PartMesh>;
  /** A part that is looked at for what is wrong with it, and where. */
  readonly looked: { readonly mesh: PartMesh; readonly at: Vec3 } | null;
  readonly hidden: ReadonlySet<string>;
  /** The row that is being filled by pointing at the scan. */
  readonly aimed: Aim | null;
}

const lines = new WeakMap<Runner['nodes'], Centreline | null>();

/** Centreline of a runner, made once per node table; null while the table describes none. */
export function runnerLine(runner: Runner): Centreline | null {
  const there = lines.get(runner.nodes);
  if (there !== undefined) return there;
  const made = buildCentreline(
    runner.nodes.map((n) => ({
      x: n.x ?? Number.NaN,
      y: n.y ?? Number.NaN,
      z: n.z ?? Number.NaN,
      radius: n.radius ?? 0,
    })),
  );
  const line = made.ok ? made : null;
  lines.set(runner.nodes, line);
  return line;
}

function concerns(verdict: Verdict, runner: string): boolean {
  return verdict.subject.id.split('~').includes(runner);
}

function runnerState(verdicts: Iterable<ShownVerdict>, runner: string): RunnerView['state'] {
  let state: RunnerView['state'] = 'plain';
  for (const { verdict } of verdicts) {
    // Only what has a place in space colours the metal; the rest is in the list.
    if (verdict.severity !== 'block' || !('witness' in verdict) || !concerns(verdict, runner)) continue;
    if (verdict.status === 'fail') return 'outside';
    if (verdict.status === 'pass' && verdict.close) state = 'near';
  }
  return state;
}

function runnerViews({ spec, verdicts, chosenRunner, focus }: BayInputs): RunnerView[] {
  const radius = (spec.tube.outsideDiameter ?? 0.04) / 2;
  const focused = focus?.kind === 'verdict' ? verdicts.get(focus.id)?.verdict : undefined;
  return spec.runners.flatMap((runner) => {
    const line = runnerLine(runner);
    if (!line) return [];
    const selected = runner.id === chosenRunner || (focused !== undefined && concerns(focused, runner.id));
    return [{ id: runner.id, line, outerRadius: radius, state: runnerState(verdicts.values(), runner.id), selected }];
  });
}

function componentViews({ spec, tiles, looks, hidden, focus, verdicts, aimed }: BayInputs): ScanView[] {
  const focused = focus?.kind === 'verdict' ? verdicts.get(focus.id)?.verdict.subject.id.split('~') : undefined;
  const byDatums = placingOf(spec);
  return spec.components.flatMap((c, tone) => {
    const placing = c.placed === 'by-datums' ? byDatums : null;
    // While its box is picked, a component is shown with all there is to point at.
    const box = aimed?.kind === 'box' && aimed.row === c.id ? null : componentBox(c);
    const shown = tiles.get(c.id);
    const near = looks.get(c.id);
    return shown
      ? [
          {
            id: c.id,
            tiles: shown,
            ...(placing && { placing }),
            ...(box?.known && box.value && { box: box.value }),
            visible: !hidden.has(c.id),
            tone,
            selected: focused?.includes(c.id) ?? false,
            ...(near && { near }),
          },
        ]
      : [];
  });
}

function pieceViews(inputs: BayInputs): PieceView[] {
  const { looked, meshes } = inputs;
  const made = madeViews(inputs);
  if (!looked || [...meshes.values()].includes(looked.mesh)) return made;
  return [...made, { id: LOOKED, mesh: looked.mesh, use: 'printed', visible: true, selected: true }];
}

/** Stands for the part that is looked at: no id of a piece has a colon. */
const LOOKED = 'looked:at';

function madeViews({ spec, meshes, hidden, focus, verdicts }: BayInputs): PieceView[] {
  const focused = focus?.kind === 'verdict' ? verdicts.get(focus.id)?.verdict.subject.id.split('~') : undefined;
  return spec.pieces.flatMap(({ id, use }): PieceView[] => {
    const mesh = meshes.get(id);
    // What becomes of it is not known yet: shown as what is to be made, for that is judged.
    return mesh
      ? [{ id, mesh, use: use ?? 'printed', visible: !hidden.has(id), selected: focused?.includes(id) ?? false }]
      : [];
  });
}

/** While a datum point is picked: where the scan has those that are. */
function datumLabels({ spec, aimed }: BayInputs): LabelView[] {
  const placing = spec.components.some((c) => c.placed === 'by-datums') ? placingOf(spec) : null;
  return spec.datums.flatMap(({ id, name, scanX, scanY, scanZ }): LabelView[] => {
    if (scanX === undefined || scanY === undefined || scanZ === undefined) return [];
    const inScan: Vec3 = [scanX, scanY, scanZ];
    const at = placing ? movedBy(placing, inScan) : inScan;
    return [{ id: `d:${id}`, at, text: name ?? id, kind: 'datum', selected: id === aimed?.row }];
  });
}

function handleViews({ spec, chosenRunner, canEdit }: BayInputs): HandleView[] {
  const runner = canEdit ? spec.runners.find((r) => r.id === chosenRunner) : undefined;
  return (runner?.nodes ?? []).flatMap((n) =>
    n.x === undefined || n.y === undefined || n.z === undefined || !runner
      ? []
      : [{ runner: runner.id, node: n.id, at: [n.x, n.y, n.z] satisfies Vec3 }],
  );
}

/** Where a thread's pin is now: on the runner as it is, or where it was put. */
export function pinPlace(thread: Thread, spec: Spec): Vec3 {
  const { anchor } = thread;
  const runner = anchor.kind === 'runner' ? spec.runners.find((r) => r.id === anchor.runner) : undefined;
  const line = runner && runnerLine(runner);
  if (anchor.kind !== 'runner' || !line) return anchor.at;
  return pointOfPlace(line, anchor, (spec.tube.outsideDiameter ?? 0.04) / 2);
}

/** What a distance in the bay is held against, short enough for a label. */
function allowedWords(limit: Limit): string {
  if (limit.kind === 'range') return `needs ${formatSi('length', limit.low)} to ${formatSi('length', limit.high)}`;
  return `${limit.kind === 'min' ? 'needs' : 'allowed'} ${formatSi('length', limit.value)}`;
}

function leaderViews({ verdicts, focus, hidden }: BayInputs): {
  readonly leaders: LeaderView[];
  readonly labels: LabelView[];
} {
  const leaders: LeaderView[] = [];
  const labels: LabelView[] = [];
  for (const { verdict } of verdicts.values()) {
    if (verdict.status === 'unknown' || verdict.status === 'notApplicable' || !verdict.witness?.to) continue;
    const chosen = focus?.kind === 'verdict' && focus.id === verdict.key;
    if (verdict.status !== 'fail' && !chosen) continue;
    if (!chosen && verdict.subject.id.split('~').some((id) => hidden.has(id))) continue;
    const { at, to } = verdict.witness;
    leaders.push({ id: verdict.key, from: at, to, outside: verdict.status === 'fail' });
    const text = `${formatSi('length', verdict.measured)}, ${allowedWords(verdict.limit)}`;
    labels.push({
      id: `v:${verdict.key}`,
      at: to,
      text,
      kind: verdict.status === 'fail' ? 'clash' : 'close',
      selected: chosen,
    });
  }
  return { leaders, labels };
}

function flangeView(spec: Spec): FlangeView | null {
  const { thickness, holeDiameter } = spec.flange;
  const { outsideDiameter, wall } = spec.tube;
  if (thickness === undefined || holeDiameter === undefined || outsideDiameter === undefined || wall === undefined)
    return null;
  const place = ({ x, z }: { x: number | undefined; z: number | undefined }) =>
    x === undefined || z === undefined ? [] : [{ x, z }];
  const ports = spec.runners.flatMap((r) => (r.nodes[0] ? place(r.nodes[0]) : []));
  return { thickness, holeDiameter, holes: spec.holes.flatMap(place), ports, portDiameter: outsideDiameter - 2 * wall };
}

function lookedLabel({ looked }: BayInputs): LabelView[] {
  return looked ? [{ id: LOOKED, at: looked.at, text: 'wrong here', kind: 'clash', selected: true }] : [];
}

/** What the scene shall show. Pure. */
export function bayView(inputs: BayInputs): BayView {
  const { leaders, labels } = leaderViews(inputs);
  const pins = inputs.threads.map(
    (t): LabelView => ({
      id: `t:${t.id}`,
      at: pinPlace(t, inputs.spec),
      text: String(t.n),
      kind: t.state === 'open' ? 'pin' : 'pin-closed',
      selected: inputs.focus?.kind === 'thread' && inputs.focus.id === t.id,
    }),
  );
  return {
    runners: runnerViews(inputs),
    flange: flangeView(inputs.spec),
    components: componentViews(inputs),
    pieces: pieceViews(inputs),
    handles: handleViews(inputs),
    // Nothing else lies over the scan while a place on it is pointed at.
    leaders: inputs.aimed === null ? leaders : [],
    labels:
      inputs.aimed === null
        ? [...labels, ...pins, ...lookedLabel(inputs)]
        : inputs.aimed.kind === 'datum'
          ? datumLabels(inputs)
          : [],
  };
}
