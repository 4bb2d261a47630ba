import { DoubleSide, ExtrudeGeometry, Mesh, MeshStandardMaterial, Path, Shape } from 'three';
import { Layer } from './layer.ts';
import type { Palette } from './palette.ts';

/** The head flange as the spec describes it, metres: it lies on the head face (y = 0). */
export interface FlangeView {
  readonly thickness: number;
  readonly holes: readonly { readonly x: number; readonly z: number }[];
  readonly holeDiameter: number;
  readonly ports: readonly { readonly x: number; readonly z: number }[];
  readonly portDiameter: number;
}

/** Metal left around the outermost holes, metres: for the drawing only, the spec gives no outline. */
const EDGE = 0.014;

/** The plate with its stud holes and ports. */
export class FlangeLayer extends Layer {
  private shown = '';

  update(view: FlangeView | null, palette: Palette): void {
    const key = JSON.stringify([view, palette.metal.getHexString()]);
    if (key === this.shown) return;
    this.shown = key;
    this.clear();
    if (!view || view.holes.length === 0) return;
    const geometry = new ExtrudeGeometry(plate(view), {
      depth: view.thickness,
      bevelEnabled: false,
      curveSegments: 20,
    });
    const mesh = new Mesh(
      geometry,
      new MeshStandardMaterial({ color: palette.metal, metalness: 0.1, roughness: 0.7, side: DoubleSide }),
    );
    // A quarter turn about x takes the shape's second axis to z and its depth to -y; the depth is turned round to point away from the head.
    mesh.rotation.x = Math.PI / 2;
    mesh.scale.z = -1;
    this.group.add(mesh);
  }
}

function plate({ holes, ports, holeDiameter, portDiameter }: FlangeView): Shape {
  const all = [...holes, ...ports];
  const [x0, x1] = [Math.min(...all.map((h) => h.x)) - EDGE, Math.max(...all.map((h) => h.x)) + EDGE];
  const [z0, z1] = [Math.min(...all.map((h) => h.z)) - EDGE, Math.max(...all.map((h) => h.z)) + EDGE];
  const shape = new Shape();
  shape.moveTo(x0, z0).lineTo(x1, z0).lineTo(x1, z1).lineTo(x0, z1).closePath();
  for (const { x, z } of holes) shape.holes.push(circle(x, z, holeDiameter / 2));
  for (const { x, z } of ports) shape.holes.push(circle(x, z, portDiameter / 2));
  return shape;
}

function circle(x: number, z: number, radius: number): Path {
  const path = new Path();
  path.absarc(x, z, radius, 0, 2 * Math.PI, true);
  return path;
}
