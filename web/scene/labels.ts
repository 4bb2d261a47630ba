import { type Camera, Vector3 } from 'three';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { type LabelBox, placeLabels, type Rect } from './labelPlaces.ts';

/** A label that hangs on a place in the scene. */
export interface LabelView {
  readonly id: string;
  readonly at: Vec3;
  readonly text: string;
  readonly kind: 'pin' | 'pin-closed' | 'clash' | 'close' | 'datum';
  readonly selected: boolean;
}

/** Pins mark a place and stay on it; what is chosen is read first, then what is wrong. */
const ranks: Readonly<Record<LabelView['kind'], number>> = { pin: 0, 'pin-closed': 0, datum: 2, clash: 3, close: 4 };
const rankOf = ({ kind, selected }: LabelView): number => (selected ? Math.min(1, ranks[kind]) : ranks[kind]);

interface Drawn {
  readonly view: LabelView;
  readonly element: HTMLButtonElement;
  /** Measured once for each wording: to ask the browser in every frame would stop it. */
  size: Pick<LabelBox, 'width' | 'height' | 'offset'> | null;
}

/** HTML labels over the canvas: readable, selectable, in reach of a screen reader. */
export class LabelLayer {
  private readonly root: HTMLElement;
  private readonly onPick: (id: string) => void;
  private readonly drawn = new Map<string, Drawn>();
  private measuredAt = 0;

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
      const before = this.drawn.get(view.id);
      const element = before?.element ?? this.make(view.id);
      const same = before?.view.text === view.text && before.view.kind === view.kind;
      if (!same) write(element, view);
      element.className = `label label-${view.kind}${view.selected ? ' label-selected' : ''}`;
      element.dataset.label = view.id;
      this.drawn.set(view.id, { view, element, size: same ? before.size : null });
    }
  }

  /** Puts every label where its place is on the screen now. */
  place(camera: Camera, width: number, height: number): void {
    const v = new Vector3();
    const boxes: LabelBox[] = [];
    // The wording depends on the width of the view.
    if (this.measuredAt !== width) for (const one of this.drawn.values()) one.size = null;
    this.measuredAt = width;
    for (const one of this.drawn.values()) {
      v.set(...one.view.at).project(camera);
      const hidden = v.z > 1 || Math.abs(v.x) > 1.2 || Math.abs(v.y) > 1.2;
      one.element.hidden = hidden;
      if (hidden) continue;
      one.size ??= measure(one.element);
      const at = { x: ((v.x + 1) / 2) * width, y: ((1 - v.y) / 2) * height };
      boxes.push({ id: one.view.id, ...at, ...one.size, rank: rankOf(one.view) });
    }
    for (const [id, { x, y, mini }] of placeLabels(boxes, { width, height }, this.covered())) {
      const element = this.drawn.get(id)?.element;
      element?.classList.toggle('label-mini', mini);
      if (element) element.style.transform = `translate(${x}px, ${y}px)`;
    }
  }

  /** Panels that stand over the view. */
  private covered(): readonly Rect[] {
    const home = this.root.getBoundingClientRect();
    const panels = this.root.parentElement?.querySelectorAll('.toggles, .near-legend') ?? [];
    return [...panels].map((panel) => {
      const { left, top, right, bottom } = panel.getBoundingClientRect();
      return [left - home.left, top - home.top, right - home.left, bottom - home.top];
    });
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

/** The figure first; on a narrow view what it is held against is left to the list. */
function write(element: HTMLElement, { text, kind }: LabelView): void {
  const cut = kind === 'clash' || kind === 'close' ? text.indexOf(', ') : -1;
  element.replaceChildren(cut < 0 ? text : text.slice(0, cut));
  if (cut < 0) return;
  const more = document.createElement('span');
  more.className = 'label-more';
  more.textContent = text.slice(cut);
  element.append(more);
}

function measure(element: HTMLElement): Pick<LabelBox, 'width' | 'height' | 'offset'> {
  element.classList.remove('label-mini');
  const { offsetLeft, offsetTop, offsetWidth, offsetHeight } = element;
  return { width: offsetWidth, height: offsetHeight, offset: [offsetLeft, offsetTop] };
}
