import type { DeviationResult } from '../geometry/deviationMeasurement.ts';
import type { Element } from '../spec/spec.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { pieceMesh } from './pieceMesh.ts';

/**
 * Deviations of the scan that a printed piece names from the model of its piece, measured by a worker. Aligned to the datum faces, both are
 * compared where their files lie; a best fit is made here.
 */
export function measuredDeviation(context: FactContext, row: Element<'printedPieces'>): Known<DeviationResult> {
  const { pieces } = context.spec;
  const path = `printedPieces.${row.id}`;
  const deps = [pieces, row.piece, row.scan, row.scanUnit, row.alignment];
  const job = context.memo(`deviation-job/${row.id}`, deps, () =>
    derive(
      {
        mesh: derive({ piece: namedPiece(context, `${path}.piece`, row.piece) }, (v) => pieceMesh(v.piece)),
        scan: at(`${path}.scan`, row.scan),
        unit: at(`${path}.scanUnit`, row.scanUnit),
        alignment: at(`${path}.alignment`, row.alignment),
      },
      (v) => {
        const fit = v.alignment === 'best-fit' ? 'best-fit' : 'as-placed';
        return { kind: 'deviation', scan: `${v.scan}-${v.unit}`, mesh: v.mesh, fit } as const;
      },
    ),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}

/** The piece of a name; `path` is that of the name. None or several of that name: inconsistent. */
function namedPiece(context: FactContext, path: string, name: string | undefined): Known<Element<'pieces'>> {
  const { pieces } = context.spec;
  return derive({ name: at(path, name) }, (v): Known<Element<'pieces'>> => {
    const named = pieces.filter((piece) => piece.name === v.name);
    const [piece] = named;
    if (piece && named.length === 1) return known(piece);
    const names = pieces.map((one) => one.name ?? one.id).join(', ') || 'none yet';
    return unknown({
      reason: 'inconsistent',
      detail: `expected the name of one piece (${names}), got "${v.name}"`,
      paths: [path],
    });
  });
}
