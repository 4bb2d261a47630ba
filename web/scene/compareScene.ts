import {
  Box3,
  BufferAttribute,
  BufferGeometry,
  Line,
  LineBasicMaterial,
  LineDashedMaterial,
  Mesh,
  MeshBasicMaterial,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three';
import { type Centreline, sample } from '../../shared/geometry/centreline.ts';
import { sweepTube } from '../../shared/geometry/sweep.ts';
import { HeaderLayer } from './header.ts';
import { Layer } from './layer.ts';
import { readPalette } from './palette.ts';
import { lookAtAll, type Stage, stageOf } from './stage.ts';

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
  private readonly stage: Stage;
  private readonly metal = new HeaderLayer(this.scene);
  private readonly lines = new OldLayer(this.scene);
  private readonly canvas: HTMLCanvasElement;
  private readonly observer: ResizeObserver;
  private due = false;

  /** Throws where the browser cannot draw in 3D. */
  constructor(canvas: HTMLCanvasElement) {
    this.canvas = canvas;
    this.renderer = new WebGLRenderer({ canvas, antialias: true });
    this.stage = stageOf(this.scene, canvas, () => this.draw());
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
    this.stage.controls.dispose();
    this.metal.dispose();
    this.lines.dispose();
    this.renderer.dispose();
  }

  /** Looks at all there is. */
  private frame(): void {
    const box = new Box3().expandByObject(this.metal.group).expandByObject(this.lines.group);
    if (!box.isEmpty()) lookAtAll(this.stage, box, new Vector3(0.7, 1, 0.75));
    this.draw();
  }

  private draw(): void {
    if (this.due) return;
    this.due = true;
    requestAnimationFrame(() => {
      this.due = false;
      this.renderer.render(this.scene, this.stage.camera);
    });
  }

  private resize(): void {
    const { clientWidth: width, clientHeight: height } = this.canvas.parentElement ?? this.canvas;
    if (width === 0 || height === 0) return;
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.renderer.setSize(width, height, false);
    const { camera } = this.stage;
    camera.aspect = width / height;
    camera.updateProjectionMatrix();
    this.draw();
  }
}
