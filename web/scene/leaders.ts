import { BufferAttribute, BufferGeometry, LineBasicMaterial, LineSegments } from 'three';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { Layer } from './layer.ts';
import type { Palette } from './palette.ts';

/** A measured distance to draw: from the scan to the tube. */
export interface LeaderView {
  readonly id: string;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly outside: boolean;
}

/** Lines between the two ends of a measured gap, drawn over everything so that none is hidden by the metal it is about. */
export class LeaderLayer extends Layer {
  update(leaders: readonly LeaderView[], palette: Palette): void {
    this.clear();
    for (const leader of leaders) {
      const geometry = new BufferGeometry();
      geometry.setAttribute('position', new BufferAttribute(new Float32Array([...leader.from, ...leader.to]), 3));
      const color = leader.outside ? palette.fail : palette.close;
      const material = this.look(
        `${leader.outside ? 'outside' : 'near'} ${palette.name}`,
        () => new LineBasicMaterial({ color, depthTest: false, linewidth: 2 }),
      );
      const line = new LineSegments(geometry, material);
      line.renderOrder = 10;
      this.group.add(line);
    }
  }
}
