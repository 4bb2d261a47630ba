import { type Camera, Mesh, MeshBasicMaterial, Plane, Raycaster, SphereGeometry, Vector2, Vector3 } from 'three';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { Layer } from './layer.ts';
import type { Palette } from './palette.ts';

/** A node that can be dragged. */
export interface HandleView {
  readonly runner: string;
  readonly node: string;
  readonly at: Vec3;
}

export interface DragEvents {
  readonly start: (handle: HandleView) => void;
  readonly move: (handle: HandleView, to: Vec3) => void;
  readonly end: (handle: HandleView) => void;
}

interface Pointer {
  readonly x: number;
  readonly y: number;
  readonly touch: boolean;
}

/** A finger needs more room than a mouse, px. */
const REACH = { mouse: 16, touch: 34 } as const;

interface Drag {
  readonly handle: HandleView;
  readonly plane: Plane;
  readonly offset: Vector3;
}

/** Ball handles on the nodes of the chosen runner; dragged in the plane that faces the eye. */
export class HandleLayer extends Layer {
  private handles: readonly HandleView[] = [];
  private drag: Drag | null = null;
  private readonly raycaster = new Raycaster();

  update(handles: readonly HandleView[], palette: Palette): void {
    this.handles = handles;
    this.clear();
    for (const handle of handles) {
      const ball = new Mesh(
        new SphereGeometry(0.006, 16, 12),
        this.look(
          palette.name,
          () => new MeshBasicMaterial({ color: palette.action, depthTest: false, transparent: true, opacity: 0.9 }),
        ),
      );
      ball.position.set(...handle.at);
      ball.renderOrder = 11;
      this.group.add(ball);
    }
  }

  dragging(): boolean {
    return this.drag !== null;
  }

  /** Screen places of the handles, for keyboards and tests. */
  screenPlaces(
    camera: Camera,
    width: number,
    height: number,
  ): readonly { readonly handle: HandleView; readonly x: number; readonly y: number }[] {
    return this.handles.map((handle) => ({ handle, ...toScreen(handle.at, camera, width, height) }));
  }

  /** Starts a drag when a handle is in reach of the pointer. */
  grab(pointer: Pointer, camera: Camera, size: { readonly width: number; readonly height: number }): HandleView | null {
    const reach = pointer.touch ? REACH.touch : REACH.mouse;
    let best: { handle: HandleView; distance: number } | null = null;
    for (const { handle, x, y } of this.screenPlaces(camera, size.width, size.height)) {
      const distance = Math.hypot(x - pointer.x, y - pointer.y);
      if (distance <= reach && (!best || distance < best.distance)) best = { handle, distance };
    }
    if (!best) return null;
    const at = new Vector3(...best.handle.at);
    const plane = new Plane().setFromNormalAndCoplanarPoint(camera.getWorldDirection(new Vector3()), at);
    const hit = this.onPlane(pointer, plane, camera, size);
    this.drag = { handle: best.handle, plane, offset: hit ? at.sub(hit) : new Vector3() };
    return best.handle;
  }

  /** Where the dragged node would be, or null. */
  pull(
    pointer: Pointer,
    camera: Camera,
    size: { readonly width: number; readonly height: number },
  ): { readonly handle: HandleView; readonly to: Vec3 } | null {
    if (!this.drag) return null;
    const hit = this.onPlane(pointer, this.drag.plane, camera, size);
    if (!hit) return null;
    hit.add(this.drag.offset);
    return { handle: this.drag.handle, to: [hit.x, hit.y, hit.z] };
  }

  release(): HandleView | null {
    const handle = this.drag?.handle ?? null;
    this.drag = null;
    return handle;
  }

  private onPlane(
    pointer: Pointer,
    plane: Plane,
    camera: Camera,
    size: { readonly width: number; readonly height: number },
  ): Vector3 | null {
    const ndc = new Vector2((pointer.x / size.width) * 2 - 1, 1 - (pointer.y / size.height) * 2);
    this.raycaster.setFromCamera(ndc, camera);
    return this.raycaster.ray.intersectPlane(plane, new Vector3());
  }
}

function toScreen(at: Vec3, camera: Camera, width: number, height: number): { readonly x: number; readonly y: number } {
  const v = new Vector3(...at).project(camera);
  return { x: ((v.x + 1) / 2) * width, y: ((1 - v.y) / 2) * height };
}
