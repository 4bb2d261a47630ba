import { describe, expect, it } from 'vitest';
import { meshReport } from './meshReport.ts';
import { repaired } from './repair.ts';
import { bendMesh } from './shapes.fixture.ts';
import { meshFrom } from './triangleMesh.ts';

describe('triangles without area', () => {
  it('that fell together in a weld go without opening an edge; the account says how many', () => {
    const bend = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 0.5, { along: 8, facets: 24 });
    // One vertex put where its neighbour along the facets is: two triangles have an edge of no length.
    const positions = bend.positions.slice();
    positions.copyWithin(3, 0, 3);
    const { mesh, account } = repaired({ positions, indices: bend.indices }, { weld: 0, dropCollapsed: true });
    expect(account).toMatchObject({ weldedVertices: 1, droppedDegenerate: 2, droppedDuplicate: 0, turnedTriangles: 0 });
    expect(meshReport(mesh)).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, degenerate: 0 });
  });

  it('of three vertices in line stay unless asked for: without them the surface has a slit', () => {
    // A tetrahedron with a vertex in the middle of one edge, which only one of the two faces there knows of.
    const mesh = meshFrom(
      [0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0.5, 0, 0],
      [0, 2, 1, 0, 4, 3, 4, 1, 3, 0, 1, 4, 0, 3, 2, 1, 2, 3],
    );
    expect(meshReport(mesh)).toMatchObject({ openEdges: 0, degenerate: 1 });
    const kept = repaired(mesh, { dropCollapsed: true });
    expect([kept.account.droppedDegenerate, kept.mesh.indices]).toEqual([0, mesh.indices]);
    const dropped = repaired(mesh, { dropDegenerate: true });
    expect(dropped.account.droppedDegenerate).toBe(1);
    expect(meshReport(dropped.mesh)).toMatchObject({ openEdges: 3, degenerate: 0, holes: 1 });
  });
});
