import {
  AmbientLight,
  type Box3,
  DirectionalLight,
  HemisphereLight,
  MathUtils,
  PerspectiveCamera,
  type Scene,
  Vector3,
} from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';

/** What every view of the header has: light, an eye that z is up for, and a hand that turns it. */
export interface Stage {
  readonly camera: PerspectiveCamera;
  readonly controls: OrbitControls;
}

/** Lights a scene and sets up its eye; `moved` is called when the hand turned it. Metres. */
export function stageOf(scene: Scene, canvas: HTMLCanvasElement, moved: () => void): Stage {
  const camera = new PerspectiveCamera(38, 1, 0.01, 50);
  camera.up.set(0, 0, 1);
  scene.add(new HemisphereLight(0xffffff, 0x8899aa, 1.6), new AmbientLight(0xffffff, 0.5));
  const lamp = new DirectionalLight(0xffffff, 1.8);
  lamp.position.set(1, 2, 3);
  scene.add(lamp);
  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  controls.addEventListener('change', moved);
  return { camera, controls };
}

/** Goes back from the middle of a box, which is not empty, until all of it is seen from that side. */
export function lookAtAll({ camera, controls }: Stage, box: Box3, from: Vector3): void {
  const centre = box.getCenter(new Vector3());
  const back = from.clone().normalize();
  const right = new Vector3().crossVectors(camera.up, back).normalize();
  const up = new Vector3().crossVectors(back, right);
  const half = Math.tan(MathUtils.degToRad(camera.fov) / 2);
  let distance = 0;
  for (const corner of cornersOf(box)) {
    const at = corner.sub(centre);
    const aside = Math.max(Math.abs(at.dot(right)) / camera.aspect, Math.abs(at.dot(up))) / half;
    distance = Math.max(distance, at.dot(back) + aside);
  }
  camera.position.copy(centre).addScaledVector(back, distance * 1.08);
  controls.target.copy(centre);
  controls.update();
}

function cornersOf({ min, max }: Box3): readonly Vector3[] {
  return [min.x, max.x].flatMap((x) => [min.y, max.y].flatMap((y) => [min.z, max.z].map((z) => new Vector3(x, y, z))));
}
