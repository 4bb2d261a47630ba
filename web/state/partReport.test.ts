import { describe, expect, it } from 'vitest';
import { meshReport } from '../../shared/geometry/mesh/meshReport.ts';
import { boxMesh, flipped, moved } from '../../shared/geometry/mesh/shapes.fixture.ts';
import { joinMeshes, type TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import type { MeshReportView } from '../../shared/protocol/http.ts';
import { reportLines, reportSummary } from './partReport.ts';

const box = boxMesh([0.1, 0.06, 0.04]);
const bounds: { min: [number, number, number]; max: [number, number, number] } = {
  min: [0, 0, 0],
  max: [0.1, 0.06, 0.04],
};

/** The real report of a real mesh, as the server sends it. */
function viewOf(mesh: TriangleMesh, over: Partial<MeshReportView> = {}): MeshReportView {
  const { shells, ...report } = meshReport(mesh);
  return { ...report, shells: shells.length, triangles: mesh.indices.length / 3, at: null, ...over };
}

const lines = (view: MeshReportView) => reportLines(view, { bounds });
const bad = (view: MeshReportView) =>
  lines(view)
    .filter(({ state }) => state === 'outside' || state === 'caution')
    .map(({ key, value, state }) => `${key} ${value} ${state}`);

describe('the report on a part', () => {
  it('has nothing to say against a box', () => {
    const all = lines(viewOf(box));
    expect(reportSummary(all)).toEqual({ state: 'within', text: 'Closed, nothing wrong' });
    expect(all.filter(({ state }) => state === 'none').map(({ key, value }) => [key, value])).toEqual([
      ['volume', '240.0 cm3'],
      ['area', '248.0 cm2'],
      ['box', '100.00 mm x 60.00 mm x 40.00 mm'],
    ]);
  });

  it('doubts the unit of a part that is larger than a bay', () => {
    const all = reportLines(viewOf(box), { bounds: { min: [0, 0, 0], max: [5.08, 2.2, 3.81] } });
    expect(all.find(({ key }) => key === 'box')).toMatchObject({
      state: 'caution',
      todo: expect.stringMatching(/unit/),
    });
    expect(reportSummary(all).text).toBe('Closed, 1 thing to look at');
  });

  it.each<[string, MeshReportView, readonly string[]]>([
    [
      'a missing triangle',
      viewOf({ ...box, indices: box.indices.slice(3) }),
      ['openEdges 3 outside', 'holes 1 outside'],
    ],
    ['a flipped triangle', viewOf(flipped(box, (t) => t === 0)), ['flippedEdges 3 outside']],
    ['all triangles flipped', viewOf(flipped(box, () => true)), ['insideOut 240.0 cm3 outside']],
    ['two bodies apart', viewOf(joinMeshes([box, moved(box, [1, 0, 0])])), ['shells 2 caution']],
    [
      'a search given up',
      viewOf(box, { selfIntersectionsComplete: false }),
      ['selfIntersections not all looked at caution'],
    ],
    [
      'crossings, and a search given up',
      viewOf(box, { selfIntersectionsComplete: false, selfIntersections: 12_000 }),
      ['selfIntersections at least 12,000 outside'],
    ],
  ])('tells %s', (_, view, expected) => {
    expect(bad(view)).toEqual(expected);
    for (const line of lines(view)) {
      const wrong = line.state === 'outside' || line.state === 'caution';
      expect([line.key, line.means !== undefined, line.todo !== undefined]).toEqual([line.key, wrong, wrong]);
    }
  });

  it('gives no volume of what encloses none', () => {
    const open = lines(viewOf({ ...box, indices: box.indices.slice(3) }));
    expect(open.find(({ key }) => key === 'volume')?.value).toBe('cannot tell');
    expect(reportSummary(open)).toEqual({ state: 'outside', text: '2 things to put right' });
  });

  it('does not call doubt a pass', () => {
    const doubtful = lines(viewOf(box, { selfIntersectionsComplete: false }));
    expect(reportSummary(doubtful)).toEqual({ state: 'caution', text: 'Closed, 1 thing to look at' });
  });
});
