import { Color, PointsMaterial } from 'three';
import { NEARNESS_FAR, nearnessCap, nearnessLevel } from '../../shared/geometry/nearness.ts';
import type { Palette } from './palette.ts';

/** Distances that each have a colour end here, metres; the last one is as far as distances are told. */
export const nearBands: readonly number[] = [0.005, 0.01, 0.02, 0.04, nearnessCap];

/** What the scene needs of a scan's nearness. */
export interface ShownNearness {
  /** A level for each point of a tile; another array when a level is another, undefined while unknown. */
  levels(tile: number): Uint8Array<ArrayBuffer> | undefined;
  want(tiles: readonly number[]): void;
  onLoaded(listener: () => void): () => void;
}

/** That points are drawn by how near the header is. */
export interface NearLook {
  readonly source: ShownNearness;
  /** Clearance that the heat class asks for, metres; null without a class. */
  readonly clearance: number | null;
}

/** From the nearest to the farthest band: the colours for outside, little left and plain, and two mixed halfway in light, as the legend mixes them. */
function bandColours({ fail, close, action }: Palette): readonly Color[] {
  return [fail, fail.clone().lerp(close, 0.5), close, close.clone().lerp(action, 0.5), action];
}

/** Sides of the stripes over what is nearer than its class asks, px of the picture. */
const STRIPE = 4;

/** Draws points by their level: coloured in bands, larger and hatched below a clearance, small in the component's own colour when far. */
export class NearMaterial extends PointsMaterial {
  private readonly own = {
    nearEdges: { value: nearBands.map((edge) => nearnessLevel(edge - 1e-12, nearnessCap) / NEARNESS_FAR) },
    nearColours: { value: nearBands.map(() => new Color()) },
    nearInk: { value: new Color() },
    nearLimit: { value: -1 },
  };

  constructor() {
    super({ sizeAttenuation: false });
    this.onBeforeCompile = (shader) => {
      Object.assign(shader.uniforms, this.own);
      shader.vertexShader = VERTEX_HEAD + shader.vertexShader.replace('gl_PointSize = size;', VERTEX_BODY);
      shader.fragmentShader =
        FRAGMENT_HEAD + shader.fragmentShader.replace('#include <clipping_planes_fragment>', FRAGMENT_BODY);
    };
    this.customProgramCacheKey = () => 'near';
  }

  /** Takes the theme's colours, and the clearance below which points are marked, metres. */
  dress(palette: Palette, clearance: number | null): void {
    for (const [i, colour] of bandColours(palette).entries()) this.own.nearColours.value[i]?.copy(colour);
    this.own.nearInk.value.copy(palette.ground);
    // A level may round up: the step that the clearance lies in is marked as a whole.
    const level = clearance === null ? -1 : nearnessLevel(Math.min(clearance, nearnessCap - 1e-9), nearnessCap);
    this.own.nearLimit.value = level < 0 ? -1 : (level + 0.5) / NEARNESS_FAR;
  }
}

const VERTEX_HEAD = /* glsl */ `
attribute float nearness;
uniform float nearEdges[ ${nearBands.length} ];
uniform vec3 nearColours[ ${nearBands.length} ];
uniform float nearLimit;
varying vec4 vNear;
`;
/** The fourth number: 1 nearer than allowed, 0 near, -1 far. */
const VERTEX_BODY = /* glsl */ `
vNear = vec4( nearColours[ ${nearBands.length - 1} ], 0.0 );
for ( int i = ${nearBands.length - 2}; i >= 0; i -- )
  if ( nearness <= nearEdges[ i ] ) vNear.rgb = nearColours[ i ];
if ( nearness > 0.998 ) vNear.a = - 1.0;
else if ( nearness < nearLimit ) vNear.a = 1.0;
gl_PointSize = size * ( vNear.a > 0.5 ? 2.2 : vNear.a < - 0.5 ? 0.8 : 1.4 );
`;
const FRAGMENT_HEAD = /* glsl */ `
uniform vec3 nearInk;
varying vec4 vNear;
`;
const FRAGMENT_BODY = /* glsl */ `
#include <clipping_planes_fragment>
if ( vNear.a > - 0.5 ) diffuseColor.rgb = vNear.rgb;
if ( vNear.a > 0.5 && mod( gl_FragCoord.x - gl_FragCoord.y, ${(2.5 * STRIPE).toFixed(1)} ) < ${STRIPE.toFixed(1)} )
  diffuseColor.rgb = nearInk;
`;
