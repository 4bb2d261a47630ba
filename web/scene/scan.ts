import { BufferAttribute, BufferGeometry, Points, PointsMaterial } from 'three';
import { Layer } from './layer.ts';
import type { Palette } from './palette.ts';

/** A bay component's points as the scene draws them, metres. */
export interface ScanPointsView {
  readonly id: string;
  readonly points: Float32Array;
  readonly visible: boolean;
  /** Place in the palette. */
  readonly tone: number;
  readonly selected: boolean;
}

/** The scan, one point object a component. */
export class ScanLayer extends Layer {
  private readonly drawn = new Map<string, { points: Float32Array; object: Points<BufferGeometry, PointsMaterial> }>();

  update(components: readonly ScanPointsView[], palette: Palette): void {
    const ids = new Set(components.map((c) => c.id));
    for (const [id, { object }] of this.drawn) {
      if (ids.has(id)) continue;
      this.drop(object);
      this.drawn.delete(id);
    }
    for (const view of components) this.updateOne(view, palette);
  }

  objects(): readonly Points[] {
    return [...this.drawn.values()].map((d) => d.object).filter((o) => o.visible);
  }

  private updateOne(view: ScanPointsView, palette: Palette): void {
    const there = this.drawn.get(view.id);
    const object = there?.points === view.points ? there.object : this.make(view);
    object.visible = view.visible;
    object.material.color.copy(
      view.selected ? palette.action : (palette.scan[view.tone % palette.scan.length] ?? palette.ink),
    );
    object.material.size = view.selected ? 3.2 : 2;
  }

  private make(view: ScanPointsView): Points<BufferGeometry, PointsMaterial> {
    const there = this.drawn.get(view.id);
    if (there) this.drop(there.object);
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(view.points, 3));
    const object = new Points(geometry, new PointsMaterial({ size: 2, sizeAttenuation: false }));
    this.group.add(object);
    this.drawn.set(view.id, { points: view.points, object });
    return object;
  }
}
