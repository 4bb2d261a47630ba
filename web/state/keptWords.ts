import type { UploadResult } from '../../shared/protocol/http.ts';
import { formatSi } from '../../shared/units/format.ts';
import { formatName } from './fileKinds.ts';

/** What was read of a scan, and what becomes of it. @param ofPiece it is of a printed piece, not of the bay */
export function keptWords({ scan, known }: UploadResult, ofPiece: boolean): string {
  const size = scan.bounds.max.map((v, i) => formatSi('length', v - (scan.bounds.min[i] ?? 0)));
  const spacing = scan.spacing === null ? '' : `, surface sampled at ${formatSi('length', scan.spacing)}`;
  const without = scan.unplaced ? `, ${scan.unplaced.toLocaleString('en')} without a place left out` : '';
  const read = `${scan.points.toLocaleString('en')} points read from ${scan.name} (${formatName(scan.format)})${without}, ${size.join(' x ')}${spacing}.`;
  const becomes = ofPiece
    ? 'It is kept with the printed piece and being compared with its part.'
    : 'It is in the bay and being measured.';
  return `${read} ${known ? 'The same file was here already. ' : ''}${becomes}`;
}
