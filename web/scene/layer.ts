import type { Object3D, Scene } from 'three';
import { BufferGeometry, Group, Material } from 'three';

/** A part of the scene that owns what it draws: nothing outlives its layer. */
export class Layer {
  readonly group = new Group();

  constructor(scene: Scene) {
    scene.add(this.group);
  }

  /** Removes and frees one object with all below it. */
  drop(object: Object3D): void {
    object.removeFromParent();
    object.traverse(free);
  }

  clear(): void {
    for (const child of [...this.group.children]) this.drop(child);
  }

  dispose(): void {
    this.clear();
    this.group.removeFromParent();
  }
}

function free(object: Object3D): void {
  if ('geometry' in object && object.geometry instanceof BufferGeometry) object.geometry.dispose();
  if (!('material' in object)) return;
  const materials: unknown[] = Array.isArray(object.material) ? object.material : [object.material];
  for (const m of materials) if (m instanceof Material) m.dispose();
}
