import type { Centreline } from '../centreline.ts';
import { pointAt, tangentAt } from '../centreline.ts';
import type { Vec3 } from '../vector.ts';
import { add, along, cross, dot, norm, perpendicular, scale, subtract, unit } from '../vector.ts';
import { Outlook, REACHED } from './outlook.ts';
import { leafNormal, RayCaster } from './rayHit.ts';
import type { TriangleTree } from './triangleTree.ts';

/** A bore where it lies flattest in the build. Metres, radians from the plate; the place in the part's frame. */
export interface FlattestBore {
  readonly tilt: number;
  readonly diameter: number;
  readonly s: number;
  readonly at: Vec3;
}

/** How a bore is looked for: the wall counts up to `reach` from the centreline, metres; `up` is the way up of the build in that frame, unit. */
export interface BoreLook {
  readonly reach: number;
  readonly up: Vec3;
}

/** Distance between places looked at along a centreline, metres (own: a twentieth of a bore). */
const STEP = 0.002;
/** Looks across, and how many of them must meet the wall for the place to be in a bore (own: a merge opens one side). */
const LOOKS = 16;
const WALLED = 12;
/** An axis nearer to upright than this has no crown (sine; own). */
const UPRIGHT = 1e-6;

/** Distances along a centreline of the places looked at. */
function stations(line: Centreline): readonly number[] {
  const steps = Math.max(1, Math.ceil(line.length / STEP));
  return Array.from({ length: steps + 1 }, (_, i) => (line.length * i) / steps);
}

/** Looks for bores of a part: a closed, oriented mesh in the frame of the centrelines. */
export class BoreFinder {
  private readonly tree: TriangleTree;
  private readonly caster: RayCaster;
  private readonly outlook: Outlook;

  constructor(tree: TriangleTree) {
    this.tree = tree;
    this.caster = new RayCaster(tree);
    this.outlook = new Outlook(tree);
  }

  /**
   * Where the bore about a centreline lies flattest, looked for every 2 mm of it that runs in a bore of the part; undefined when none does.
   * @param hidden only places whose crown no straight tool reaches
   */
  flattest(line: Centreline, look: BoreLook, hidden = false): FlattestBore | undefined {
    let flattest: FlattestBore | undefined;
    for (const s of stations(line)) {
      const [at, tangent] = [pointAt(line, s), tangentAt(line, s)];
      const tilt = Math.asin(Math.min(1, Math.abs(dot(tangent, look.up))));
      if (flattest && tilt >= flattest.tilt) continue;
      const diameter = this.boreAt(at, tangent, look.reach);
      if (diameter === undefined || (hidden && this.reached(at, tangent, look))) continue;
      flattest = { tilt, diameter, s, at };
    }
    return flattest;
  }

  /** Directions of the bore about a centreline, unit, every 2 mm of it that runs in a bore of the part. `reach` as in {@link BoreLook}. */
  directions(line: Centreline, reach: number): readonly Vec3[] {
    return stations(line)
      .map((s) => ({ at: pointAt(line, s), tangent: tangentAt(line, s) }))
      .filter(({ at, tangent }) => this.boreAt(at, tangent, reach) !== undefined)
      .map(({ tangent }) => tangent);
  }

  /** Diameter of the bore around a place, metres: twice the middle one of the distances across; undefined when it is in none. */
  private boreAt(at: Vec3, tangent: Vec3, reach: number): number | undefined {
    const u = perpendicular(tangent);
    const v = cross(tangent, u);
    const found: number[] = [];
    for (let i = 0; i < LOOKS; i++) {
      const turn = (2 * Math.PI * (i + 0.25)) / LOOKS;
      const look = add(scale(u, Math.cos(turn)), scale(v, Math.sin(turn)));
      const hit = this.caster.first(at, look, { from: 0, to: reach });
      // The wall of a bore faces the look; metal around the place faces away.
      if (Number.isFinite(hit) && dot(leafNormal(this.tree, this.caster.leaf), look) < 0) found.push(hit);
    }
    if (found.length < WALLED) return undefined;
    found.sort((a, b) => a - b);
    return (found[(found.length - 1) >> 1] ?? 0) + (found[found.length >> 1] ?? 0);
  }

  /** Whether a straight tool gets at the crown of the bore over a place. */
  private reached(at: Vec3, tangent: Vec3, { reach, up }: BoreLook): boolean {
    const across = subtract(up, scale(tangent, dot(up, tangent)));
    if (norm(across) < UPRIGHT) return true;
    const look = unit(across);
    const hit = this.caster.first(at, look, { from: 0, to: reach });
    // A merge opens the crown: then there is none to support.
    if (!Number.isFinite(hit)) return true;
    const { leaf } = this.caster;
    return this.outlook.free({ at: along(at, look, hit), normal: unit(leafNormal(this.tree, leaf)), leaf }) >= REACHED;
  }
}
