import {
  AmbientLight,
  Box3,
  BufferAttribute,
  BufferGeometry,
  DirectionalLight,
  HemisphereLight,
  Line,
  LineBasicMaterial,
  LineDashedMaterial,
  Mesh,
  MeshBasicMaterial,
  PerspectiveCamera,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';
import { type Centreline, sample } from '../../shared/geometry/centreline.ts';
import { sweepTube } from '../../shared/geometry/sweep.ts';
import { HeaderLayer } from './header.ts';
import { Layer } from './layer.ts';
import { readPalette } from './palette.ts';

/** A runner of one of two states. */
export interface ComparedRunner {
  readonly id: string;
  readonly line: Centreline;
  readonly outerRadius: number;
}

/** Two states of a header, one drawn over the other. `moved` names the runners that are not the same in both. */
export interface ComparedHeaders {
  readonly before: readonly ComparedRunner[];
  readonly after: readonly ComparedRunner[];
  readonly moved: ReadonlySet<string>;
}

/** Largest error of what is drawn, metres. */
const SHOWN_ERROR = 5e-4;
/** Dash and gap of the old centrelines, metres. */
const DASH = { dashSize: 0.008, gapSize: 0.006 } as const;

class OldLayer extends Layer {
  /** The old runner as a shadow with a dashed line, before everything, so that it shows through the new one. */
  addOld({ line, outerRadius }: ComparedRunner, dashed: LineDashedMaterial, shadow: MeshBasicMaterial): void {
    const swept = sweepTube(line, { radius: outerRadius, maxChordError: SHOWN_ERROR });
    const tube = new BufferGeometry();
    tube.setAttribute('position', new BufferAttribute(swept.positions, 3));
    tube.setIndex(new BufferAttribute(swept.indices, 1));
    this.group.add(new Mesh(tube, shadow));
    const drawn = new Line(lineGeometry(line), dashed);
    drawn.computeLineDistances();
    drawn.renderOrder = 3;
    this.group.add(drawn);
  }

  addNew({ line }: ComparedRunner, solid: LineBasicMaterial): void {
    const drawn = new Line(lineGeometry(line), solid);
    drawn.renderOrder = 2;
    this.group.add(drawn);
  }
}

function lineGeometry(line: Centreline): BufferGeometry {
  const points = sample(line, SHOWN_ERROR).flatMap(({ point }) => [...point]);
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(points), 3));
  return geometry;
}

/** Draws an old header over a new one: the new as metal with whole lines, of the old what moved, as a shadow with dashed lines. */
export class CompareScene {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(38, 1, 0.01, 50);
  private readonly controls: OrbitControls;
  private readonly metal = new HeaderLayer(this.scene);
  private readonly lines = new OldLayer(this.scene);
  private readonly canvas: HTMLCanvasElement;
  private readonly observer: ResizeObserver;
  private due = false;

  /** Throws where the browser cannot draw in 3D. */
  constructor(canvas: HTMLCanvasElement) {
    this.canvas = canvas;
    this.renderer = new WebGLRenderer({ canvas, antialias: true });
    this.camera.up.set(0, 0, 1);
    this.scene.add(new HemisphereLight(0xffffff, 0x8899aa, 1.6), new AmbientLight(0xffffff, 0.5));
    const lamp = new DirectionalLight(0xffffff, 1.8);
    lamp.position.set(1, 2, 3);
    this.scene.add(lamp);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.addEventListener('change', () => this.draw());
    this.observer = new ResizeObserver(() => this.resize());
    this.observer.observe(canvas.parentElement ?? canvas);
    this.resize();
  }

  update({ before, after, moved }: ComparedHeaders): void {
    const palette = readPalette();
    this.scene.background = palette.ground;
    this.lines.clear();
    this.metal.update(
      after.map((runner) => ({ ...runner, state: 'plain', selected: false })),
      palette,
    );
    const through = { depthTest: false, transparent: true };
    const dashed = new LineDashedMaterial({ color: palette.ink, ...DASH, ...through });
    const solid = new LineBasicMaterial({ color: palette.action, ...through });
    const shadow = new MeshBasicMaterial({ color: palette.ink, transparent: true, opacity: 0.22, depthWrite: false });
    for (const runner of after) if (moved.has(runner.id)) this.lines.addNew(runner, solid);
    for (const runner of before) if (moved.has(runner.id)) this.lines.addOld(runner, dashed, shadow);
    this.frame();
  }

  dispose(): void {
    this.observer.disconnect();
    this.controls.dispose();
    this.metal.dispose();
    this.lines.dispose();
    this.renderer.dispose();
  }

  /** Looks at all there is. */
  private frame(): void {
    const box = new Box3().expandByObject(this.metal.group).expandByObject(this.lines.group);
    if (box.isEmpty()) return this.draw();
    const centre = box.getCenter(new Vector3());
    const radius = box.getSize(new Vector3()).length() / 2;
    const half = (Math.min(this.camera.fov, this.camera.fov * this.camera.aspect) * Math.PI) / 360;
    const from = new Vector3(0.7, 1, 0.75).normalize();
    this.camera.position.copy(centre).addScaledVector(from, (radius * 1.1) / Math.sin(half));
    this.controls.target.copy(centre);
    this.controls.update();
    this.draw();
  }

  private draw(): void {
    if (this.due) return;
    this.due = true;
    requestAnimationFrame(() => {
      this.due = false;
      this.renderer.render(this.scene, this.camera);
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
}
