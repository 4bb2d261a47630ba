import { Box3, type PerspectiveCamera, Raycaster, Scene, Vector2, Vector3, WebGLRenderer } from 'three';
import type { OrbitControls } from 'three/addons/controls/OrbitControls.js';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { FlangeLayer, type FlangeView } from './flange.ts';
import { type DragEvents, HandleLayer, type HandleView } from './handles.ts';
import { HeaderLayer, type RunnerView } from './header.ts';
import { LabelLayer, type LabelView } from './labels.ts';
import { LeaderLayer, type LeaderView } from './leaders.ts';
import { type Palette, readPalette } from './palette.ts';
import { PieceLayer, type PieceView } from './piece.ts';
import { ringed } from './ringed.ts';
import { type ScanHit, ScanLayer, type ScanView } from './scan.ts';
import { stageOf } from './stage.ts';

/** Everything the scene shows; it computes no verdict. */
export interface BayView {
  readonly runners: readonly RunnerView[];
  readonly flange: FlangeView | null;
  readonly components: readonly ScanView[];
  readonly pieces: readonly PieceView[];
  readonly handles: readonly HandleView[];
  readonly leaders: readonly LeaderView[];
  readonly labels: readonly LabelView[];
}

/** Where a pointer hit the header or the scan. */
export interface Hit {
  readonly at: Vec3;
  readonly runner: string | null;
  /** The scan point, when it was one that was hit. */
  readonly scan?: ScanHit;
}

export interface BayEvents {
  readonly drag: DragEvents;
  readonly pick: (hit: Hit | null) => void;
  readonly label: (id: string) => void;
}

/** How far beside the pointer a scan point is hit, px. */
const POINT_REACH = { mouse: 5, touch: 14 } as const;

const VIEWS: Readonly<Record<string, Vec3>> = {
  iso: [0.7, 1, 0.75],
  front: [0, 1, 0.05],
  top: [0, 0.05, 1],
  side: [1, 0.05, 0.1],
};
export const viewNames = Object.keys(VIEWS);

/** The 3D preview: header over scan. Draws only when something changed. Z is up, metres. */
export class BayScene {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera: PerspectiveCamera;
  private readonly controls: OrbitControls;
  private readonly header = new HeaderLayer(this.scene);
  private readonly flange = new FlangeLayer(this.scene);
  private readonly scan: ScanLayer;
  private readonly pieces = new PieceLayer(this.scene);
  private readonly handles = new HandleLayer(this.scene);
  private readonly leaders = new LeaderLayer(this.scene);
  private readonly labels: LabelLayer;
  private readonly labelRoot: HTMLElement;
  private readonly canvas: HTMLCanvasElement;
  private readonly events: BayEvents;
  private readonly observer: ResizeObserver;
  private palette: Palette = readPalette();
  private view: BayView | null = null;
  private framed = false;
  private scanOnly = false;
  private due = false;
  private down: { x: number; y: number } | null = null;

  constructor(canvas: HTMLCanvasElement, labels: HTMLElement, events: BayEvents) {
    this.canvas = canvas;
    this.events = events;
    const slow = drawsInSoftware();
    this.renderer = new WebGLRenderer({ canvas, antialias: !slow });
    this.scan = new ScanLayer(this.scene, pointBudget(slow), () => this.draw());
    // A component may be a part of its scan.
    this.renderer.localClippingEnabled = true;
    // Asking a driver what it thinks of a program makes it finish first; worth it only while shaders are worked on.
    this.renderer.debug.checkShaderErrors = import.meta.env.DEV;
    ({ camera: this.camera, controls: this.controls } = stageOf(this.scene, canvas, () => this.draw()));
    this.labelRoot = labels;
    this.labels = new LabelLayer(labels, events.label);
    this.observer = new ResizeObserver(() => this.resize());
    this.observer.observe(canvas.parentElement ?? canvas);
    this.listen();
    this.resize();
  }

  update(view: BayView): void {
    this.view = view;
    this.header.update(view.runners, this.palette);
    this.flange.update(view.flange, this.palette);
    this.scan.update(view.components, this.palette);
    this.pieces.update(view.pieces, this.palette);
    if (!this.handles.dragging()) this.handles.update(view.handles, this.palette);
    this.leaders.update(view.leaders, this.palette);
    this.labels.update(view.labels);
    if (!this.framed && view.runners.length + view.pieces.length > 0) this.look('iso');
    this.draw();
  }

  /** Reads the theme's colours again. */
  repaint(): void {
    this.palette = readPalette();
    if (this.view) this.update(this.view);
  }

  /** Whether only the scan can be pointed at: the header may stand before it. */
  aimAtScan(only: boolean): void {
    this.scanOnly = only;
  }

  /** Looks at the header from a named side. */
  look(name: string): void {
    const box = new Box3();
    for (const mesh of this.header.meshes()) box.expandByObject(mesh);
    // A header that comes as parts only has no runners to look at.
    if (box.isEmpty()) for (const mesh of this.pieces.meshes()) box.expandByObject(mesh);
    if (box.isEmpty()) return;
    const centre = box.getCenter(new Vector3());
    const radius = box.getSize(new Vector3()).length() / 2;
    const from = new Vector3(...(VIEWS[name] ?? [0.7, 1, 0.75])).normalize();
    const half = (Math.min(this.camera.fov, this.camera.fov * this.camera.aspect) * Math.PI) / 360;
    this.camera.position.copy(centre).addScaledVector(from, (radius * 1.15) / Math.sin(half));
    this.controls.target.copy(centre);
    this.controls.update();
    this.framed = true;
    this.draw();
  }

  /** Turns the eye to a place, keeping the direction of view. */
  lookAt(at: Vec3): void {
    const to = new Vector3(...at);
    const direction = this.camera.position.clone().sub(this.controls.target).normalize();
    this.controls.target.copy(to);
    this.camera.position.copy(to).addScaledVector(direction, 0.45);
    this.controls.update();
    this.draw();
  }

  /** Places of the drag handles on the page, for tests and for keyboard focus. */
  handlePlaces(): readonly {
    readonly runner: string;
    readonly node: string;
    readonly x: number;
    readonly y: number;
  }[] {
    const box = this.canvas.getBoundingClientRect();
    return this.handles
      .screenPlaces(this.camera, box.width, box.height)
      .map(({ handle, x, y }) => ({ runner: handle.runner, node: handle.node, x: box.left + x, y: box.top + y }));
  }

  /** A picture of the view with a place in its middle, ringed and named there, as a data URL; the view itself stays as it was. */
  picture(at: Vec3, mark: string): string | null {
    if (this.canvas.width === 0 || this.canvas.height === 0) return null;
    const [position, target] = [this.camera.position.clone(), this.controls.target.clone()];
    this.lookAt(at);
    this.scene.background = this.palette.ground;
    this.scan.choose(this.camera, this.canvas.clientHeight);
    this.renderer.render(this.scene, this.camera);
    // Taken in the same turn: the drawing is gone once the page has been painted.
    const taken = ringed(this.canvas, mark);
    this.camera.position.copy(position);
    this.controls.target.copy(target);
    this.controls.update();
    this.draw();
    return taken;
  }

  dispose(): void {
    this.observer.disconnect();
    this.controls.dispose();
    for (const layer of [this.header, this.flange, this.scan, this.pieces, this.handles, this.leaders]) layer.dispose();
    this.labels.dispose();
    this.renderer.dispose();
  }

  private draw(): void {
    if (this.due) return;
    this.due = true;
    requestAnimationFrame(() => {
      this.due = false;
      this.scene.background = this.palette.ground;
      this.scan.choose(this.camera, this.canvas.clientHeight);
      this.renderer.render(this.scene, this.camera);
      this.labels.place(this.camera, this.canvas.clientWidth, this.canvas.clientHeight);
    });
  }

  private resize(): void {
    const { clientWidth: width, clientHeight: height } = this.canvas.parentElement ?? this.canvas;
    if (width === 0 || height === 0) return;
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  private listen(): void {
    const { canvas } = this;
    const size = (): { width: number; height: number } => ({ width: canvas.clientWidth, height: canvas.clientHeight });
    const at = (e: PointerEvent): { x: number; y: number; touch: boolean } => {
      const box = canvas.getBoundingClientRect();
      return { x: e.clientX - box.left, y: e.clientY - box.top, touch: e.pointerType === 'touch' };
    };
    // Labels lie over the handles: a handle below one is taken hold of all the same.
    for (const surface of [canvas, this.labelRoot])
      surface.addEventListener('pointerdown', (e) => this.press(e, at(e), surface === canvas), { capture: true });
    canvas.addEventListener('pointermove', (e) => {
      const pulled = this.handles.pull(at(e), this.camera, size());
      if (pulled) this.events.drag.move(pulled.handle, pulled.to);
    });
    const finish = (e: PointerEvent): void => {
      const handle = this.handles.release();
      this.controls.enabled = true;
      if (handle) this.events.drag.end(handle);
      else if (this.down && Math.hypot(e.offsetX - this.down.x, e.offsetY - this.down.y) < 5)
        this.events.pick(this.hit(e.offsetX, e.offsetY));
      this.down = null;
      if (handle && this.view) this.update(this.view);
    };
    canvas.addEventListener('pointerup', finish);
    canvas.addEventListener('pointercancel', () => {
      const handle = this.handles.release();
      this.controls.enabled = true;
      if (handle) this.events.drag.end(handle);
    });
  }

  private press(e: PointerEvent, at: { x: number; y: number; touch: boolean }, onCanvas: boolean): void {
    const { canvas } = this;
    if (onCanvas) this.down = { x: at.x, y: at.y };
    const size = { width: canvas.clientWidth, height: canvas.clientHeight };
    const handle = this.scanOnly ? null : this.handles.grab(at, this.camera, size);
    if (!handle) return;
    this.controls.enabled = false;
    canvas.setPointerCapture(e.pointerId);
    this.events.drag.start(handle);
  }

  /** How far beside the pointer a point may lie, metres where the eye turns about. */
  private reach(): number {
    const away = this.camera.position.distanceTo(this.controls.target);
    const metresInPixel = (2 * away * Math.tan((this.camera.fov * Math.PI) / 360)) / this.canvas.clientHeight;
    return metresInPixel * (matchMedia('(pointer: coarse)').matches ? POINT_REACH.touch : POINT_REACH.mouse);
  }

  private hit(x: number, y: number): Hit | null {
    const raycaster = new Raycaster();
    raycaster.setFromCamera(
      new Vector2((x / this.canvas.clientWidth) * 2 - 1, 1 - (y / this.canvas.clientHeight) * 2),
      this.camera,
    );
    const [metal] = this.scanOnly
      ? []
      : raycaster.intersectObjects([...this.header.meshes(), ...this.pieces.meshes()], false);
    if (metal)
      return {
        at: [metal.point.x, metal.point.y, metal.point.z],
        runner: this.header.runnerOf(metal.object)?.id ?? null,
      };
    const point = this.scan.pick(raycaster, this.reach());
    return point && { at: point.at, runner: null, scan: point };
  }
}

/** Points of scans shown at a time (own: what a shop tablet, a desktop and a processor turn without stutter). */
function pointBudget(slow: boolean): number {
  if (slow) return 150_000;
  return matchMedia('(pointer: coarse)').matches ? 2_000_000 : 5_000_000;
}

/** True where no graphics device draws: smooth edges cost too much there. */
function drawsInSoftware(): boolean {
  const probe = document.createElement('canvas').getContext('webgl2');
  const info = probe?.getExtension('WEBGL_debug_renderer_info');
  const name = probe && info ? String(probe.getParameter(info.UNMASKED_RENDERER_WEBGL)) : '';
  probe?.getExtension('WEBGL_lose_context')?.loseContext();
  return /swiftshader|llvmpipe|software/i.test(name);
}
