import type { Object3D, Scene } from 'three';
import { BufferGeometry, Group, Material } from 'three';

/** A part of the scene that owns what it draws: nothing outlives its layer. */
export class Layer {
  readonly group = new Group();
  private readonly looks = new Map<string, Material>();

  constructor(scene: Scene) {
    scene.add(this.group);
  }

  /**
   * A material that objects share and that stays for as long as the layer: the last one of a kind that goes takes its compiled program
   * with it, and to compile another for every step of a drag costs more than all the drawing.
   */
  protected look(key: string, make: () => Material): Material {
    const there = this.looks.get(key);
    if (there) return there;
    const made = make();
    this.looks.set(key, made);
    return made;
  }

  /** Removes and frees one object with all below it. */
  drop(object: Object3D): void {
    object.removeFromParent();
    object.traverse((below) => this.free(below));
  }

  clear(): void {
    for (const child of [...this.group.children]) this.drop(child);
  }

  dispose(): void {
    this.clear();
    this.group.removeFromParent();
    for (const material of this.looks.values()) material.dispose();
  }

  private free(object: Object3D): void {
    if ('geometry' in object && object.geometry instanceof BufferGeometry) object.geometry.dispose();
    if (!('material' in object)) return;
    const shared = new Set<unknown>(this.looks.values());
    const materials: unknown[] = Array.isArray(object.material) ? object.material : [object.material];
    for (const m of materials) if (m instanceof Material && !shared.has(m)) m.dispose();
  }
}
