import { type Camera, Vector3 } from 'three';
import type { Vec3 } from '../../shared/geometry/vector.ts';

/** A label that hangs on a place in the scene. */
export interface LabelView {
  readonly id: string;
  readonly at: Vec3;
  readonly text: string;
  readonly kind: 'pin' | 'pin-closed' | 'clash' | 'close' | 'datum';
  readonly selected: boolean;
}

/** HTML labels over the canvas: readable, selectable, in reach of a screen reader. */
export class LabelLayer {
  private readonly root: HTMLElement;
  private readonly onPick: (id: string) => void;
  private readonly drawn = new Map<string, { view: LabelView; element: HTMLButtonElement }>();

  constructor(root: HTMLElement, onPick: (id: string) => void) {
    this.root = root;
    this.onPick = onPick;
  }

  update(labels: readonly LabelView[]): void {
    const ids = new Set(labels.map((l) => l.id));
    for (const [id, { element }] of this.drawn) {
      if (ids.has(id)) continue;
      element.remove();
      this.drawn.delete(id);
    }
    for (const view of labels) {
      const element = this.drawn.get(view.id)?.element ?? this.make(view.id);
      element.textContent = view.text;
      element.className = `label label-${view.kind}${view.selected ? ' label-selected' : ''}`;
      element.dataset.label = view.id;
      this.drawn.set(view.id, { view, element });
    }
  }

  /** Puts every label where its place is on the screen now. */
  place(camera: Camera, width: number, height: number): void {
    const v = new Vector3();
    for (const { view, element } of this.drawn.values()) {
      v.set(...view.at).project(camera);
      const hidden = v.z > 1 || Math.abs(v.x) > 1.2 || Math.abs(v.y) > 1.2;
      element.hidden = hidden;
      if (!hidden) element.style.transform = `translate(${((v.x + 1) / 2) * width}px, ${((1 - v.y) / 2) * height}px)`;
    }
  }

  dispose(): void {
    for (const { element } of this.drawn.values()) element.remove();
    this.drawn.clear();
  }

  private make(id: string): HTMLButtonElement {
    const element = document.createElement('button');
    element.type = 'button';
    element.addEventListener('click', () => this.onPick(id));
    this.root.append(element);
    return element;
  }
}
