import {
  BufferAttribute,
  BufferGeometry,
  DoubleSide,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshStandardMaterial,
} from 'three';
import { creaseLines } from './creases.ts';
import { Layer } from './layer.ts';
import type { Palette } from './palette.ts';
import type { PartMesh } from './partMesh.ts';

/** A piece of the header as the scene draws it, where its part file puts it. */
export interface PieceView {
  readonly id: string;
  readonly mesh: PartMesh;
  readonly visible: boolean;
  /** A printed piece is metal to come; a bought one is there already and is seen through, so that it hides nothing. */
  readonly use: 'printed' | 'bought';
  readonly selected: boolean;
}

/** Triangles up to which edges are scribed: finding them takes some 150 ns a triangle, and the page waits for it (own). */
const SCRIBED = 100_000;

interface Drawn {
  readonly view: PieceView;
  readonly mesh: Mesh;
}

/** The pieces that have a part file; a surface is handed to the graphics device once. */
export class PieceLayer extends Layer {
  private readonly drawn = new Map<string, Drawn>();
  private palette: Palette | null = null;

  update(pieces: readonly PieceView[], palette: Palette): void {
    const repaint = palette !== this.palette;
    this.palette = palette;
    const wanted = new Map(pieces.map((piece) => [piece.id, piece]));
    for (const [id, { view, mesh }] of this.drawn) {
      if (!repaint && wanted.get(id)?.mesh === view.mesh) continue;
      this.drop(mesh);
      this.drawn.delete(id);
    }
    for (const view of pieces) this.updateOne(view, palette);
  }

  /** What can be seen and hit. */
  meshes(): readonly Mesh[] {
    return [...this.drawn.values()].map((d) => d.mesh).filter((mesh) => mesh.visible);
  }

  private updateOne(view: PieceView, palette: Palette): void {
    const mesh = this.drawn.get(view.id)?.mesh ?? this.make(view, palette);
    mesh.visible = view.visible;
    mesh.material = this.look(`${view.use}${view.selected ? ' selected' : ''} ${palette.name}`, () =>
      material(view, palette),
    );
    this.drawn.set(view.id, { view, mesh });
  }

  private make({ mesh: { positions, indices } }: PieceView, palette: Palette): Mesh {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(positions, 3));
    geometry.setIndex(new BufferAttribute(indices, 1));
    const mesh = new Mesh(geometry);
    if (indices.length <= 3 * SCRIBED) {
      const lines = new BufferGeometry();
      lines.setAttribute('position', new BufferAttribute(creaseLines({ positions, indices }), 3));
      const edge = this.look(`edge ${palette.name}`, () => new LineBasicMaterial({ color: palette.edge }));
      mesh.add(new LineSegments(lines, edge));
    }
    this.group.add(mesh);
    return mesh;
  }
}

function material({ use, selected }: PieceView, palette: Palette): MeshStandardMaterial {
  const printed = use === 'printed';
  return new MeshStandardMaterial({
    color: printed ? palette.metal.clone().lerp(palette.action, 0.3) : palette.ink.clone().lerp(palette.ground, 0.55),
    metalness: 0.1,
    roughness: printed ? 0.6 : 0.9,
    // Without normals of its own each facet is as flat as it is in the file: nothing is smoothed over.
    flatShading: true,
    // Where a runner runs in a piece made for it the two surfaces are one: the runner shows, for its colour says how it is judged.
    // As far back as the two may differ by being cut into facets, some tenths of a millimetre at arm's length (own).
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 300,
    side: DoubleSide,
    transparent: !printed,
    opacity: printed ? 1 : 0.55,
    emissive: palette.action,
    emissiveIntensity: selected ? 0.25 : 0,
  });
}
