import {
  BufferAttribute,
  BufferGeometry,
  DoubleSide,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshStandardMaterial,
} from 'three';
import type { Centreline } from '../../shared/geometry/centreline.ts';
import { sample } from '../../shared/geometry/centreline.ts';
import { sweepTube } from '../../shared/geometry/sweep.ts';
import { Layer } from './layer.ts';
import type { Palette } from './palette.ts';

/** A runner as the scene draws it. */
export interface RunnerView {
  readonly id: string;
  readonly line: Centreline;
  readonly outerRadius: number;
  /** Worst state of what is judged about it. */
  readonly state: 'outside' | 'near' | 'plain';
  readonly selected: boolean;
}

/** Largest facet error shown, metres: below a pixel at arm's length. */
const SHOWN_ERROR = 2e-4;

interface Drawn {
  readonly view: RunnerView;
  readonly mesh: Mesh;
}

/** The runners, swept from their exact centrelines; only those that changed are swept again. */
export class HeaderLayer extends Layer {
  private readonly drawn = new Map<string, Drawn>();
  private palette: Palette | null = null;

  update(runners: readonly RunnerView[], palette: Palette): void {
    if (palette !== this.palette) this.reset();
    this.palette = palette;
    const ids = new Set(runners.map((r) => r.id));
    for (const [id, { mesh }] of this.drawn) {
      if (ids.has(id)) continue;
      this.drop(mesh);
      this.drawn.delete(id);
    }
    for (const view of runners) this.updateOne(view, palette);
  }

  meshes(): readonly Mesh[] {
    return [...this.drawn.values()].map((d) => d.mesh);
  }

  /** Runner a mesh belongs to. */
  runnerOf(mesh: unknown): RunnerView | null {
    for (const { mesh: m, view } of this.drawn.values()) if (m === mesh) return view;
    return null;
  }

  private reset(): void {
    this.clear();
    this.drawn.clear();
  }

  private updateOne(view: RunnerView, palette: Palette): void {
    const there = this.drawn.get(view.id);
    if (there && same(there.view, view)) return;
    if (there) this.drop(there.mesh);
    const key = `${view.state}${view.selected ? ' selected' : ''} ${palette.name}`;
    const mesh = new Mesh(
      sweptGeometry(view),
      this.look(key, () => material(view, palette)),
    );
    const edge = this.look(`edge ${palette.name}`, () => new LineBasicMaterial({ color: palette.edge }));
    mesh.add(new LineSegments(ringGeometry(view), edge));
    this.group.add(mesh);
    this.drawn.set(view.id, { view, mesh });
  }
}

function same(a: RunnerView, b: RunnerView): boolean {
  return a.line === b.line && a.outerRadius === b.outerRadius && a.state === b.state && a.selected === b.selected;
}

function material(view: RunnerView, palette: Palette): MeshStandardMaterial {
  const color = view.state === 'outside' ? palette.fail : view.state === 'near' ? palette.close : palette.metal;
  return new MeshStandardMaterial({
    color: palette.metal.clone().lerp(color, view.state === 'plain' ? 0 : 0.45),
    metalness: 0.15,
    roughness: 0.55,
    side: DoubleSide,
    emissive: palette.action,
    emissiveIntensity: view.selected ? 0.25 : 0,
  });
}

function sweptGeometry({ line, outerRadius }: RunnerView): BufferGeometry {
  const swept = sweepTube(line, { radius: outerRadius, maxChordError: SHOWN_ERROR });
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(swept.positions, 3));
  geometry.setAttribute('normal', new BufferAttribute(swept.normals, 3));
  geometry.setIndex(new BufferAttribute(swept.indices, 1));
  return geometry;
}

/** Scribed rings where straights meet bends, and at both ends: they show the cut and bend places at a glance. */
function ringGeometry({ line, outerRadius }: RunnerView): BufferGeometry {
  const steps = 32;
  const points: number[] = [];
  const stations = sample(line, 1);
  const wanted = [0, ...line.pieces.map((p) => p.s0 + p.length)];
  for (const s of wanted) {
    const station = stations.reduce((best, x) => (Math.abs(x.s - s) < Math.abs(best.s - s) ? x : best));
    const [tx, ty, tz] = station.tangent;
    const reference = Math.abs(tz) < 0.9 ? [0, 0, 1] : [1, 0, 0];
    const [rx = 0, ry = 0, rz = 0] = reference;
    const u = normalise([ty * rz - tz * ry, tz * rx - tx * rz, tx * ry - ty * rx]);
    const v = [ty * u[2] - tz * u[1], tz * u[0] - tx * u[2], tx * u[1] - ty * u[0]];
    for (let i = 0; i < steps; i++) {
      for (const j of [i, i + 1]) {
        const a = (2 * Math.PI * j) / steps;
        for (const k of [0, 1, 2] as const) {
          points.push((station.point[k] ?? 0) + outerRadius * 1.004 * (Math.cos(a) * u[k] + Math.sin(a) * (v[k] ?? 0)));
        }
      }
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(points), 3));
  return geometry;
}

function normalise([x, y, z]: readonly [number, number, number]): [number, number, number] {
  const n = Math.hypot(x, y, z) || 1;
  return [x / n, y / n, z / n];
}
