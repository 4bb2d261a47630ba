import { measuredReport, meshFaults } from '../../../quantities/partFigures.ts';
import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Whether the surface of a printed piece is closed: what a printer slices must have an inside. */
export const meshClosed = defineRule({
  id: 'mesh-closed',
  gate: 'print-release',
  title: 'Forbid open, crossing or inside-out surfaces',
  severity: 'block',
  adjustable: false,
  branches: ['pieces', 'route'],
  cost: 'measured',
  quantity: 'count',
  limit: 'open edges + edges with more than two faces + flipped edges + crossing pairs of triangles = 0',
  source: { document: 'own: only a closed surface has an inside, counted exactly', trust: 'own' },
  validity:
    'Triangles whose equal corners are one vertex. A closed, oriented surface may still be the wrong part: look at volume and size.',
  hazard:
    'The slicer guesses what is inside: a wall goes missing, or a bore is filled, and it shows when the build is done.',
  remedy: 'Unite the bodies and close the holes in the drawing program, export again, upload again.',
  messages: {
    counts:
      'Open edges {open}, with more than two faces {shared}, flipped {flipped}, crossings {crossings}; shells {shells}, volume {volume:volume}.',
  },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({ report: measuredReport(context, row) }),
  evaluate: ({ report }, { row }): Outcome => {
    const faults = meshFaults(report);
    if (faults === 0 && !report.selfIntersectionsComplete) {
      const detail = 'expected a mesh that can be searched for crossings to the end, got one too tangled for it';
      return { status: 'unknown', why: { reason: 'inconsistent', detail, paths: [`pieces.${row.id}.mesh`] } };
    }
    return judge(faults, {
      limit: { kind: 'max', value: 0 },
      guard: 0,
      message: 'counts',
      data: {
        open: report.openEdges,
        shared: report.nonManifoldEdges,
        flipped: report.flippedEdges,
        crossings: report.selfIntersections,
        shells: report.shells,
        volume: report.volume,
      },
      ...(report.at && { witness: { at: report.at } }),
    });
  },
});
