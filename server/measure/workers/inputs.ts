import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { GridFileError, gridFileStamp, readGridFile } from '../grid-file.ts';
import { createGridShelf } from '../grid-shelf.ts';

const shelf = createGridShelf({ load: readGridFile, stamp: gridFileStamp });

/** The grid in a file, kept for the next job. @throws GridFileError, ReadFailure */
export const gridIn = (file: string): PointGrid => shelf.get(file);

/** What a measurement can look at: what its job names, by that name. */
export interface MeasureInputs {
  /** The points of a scan. @throws GridFileError, ReadFailure */
  readonly scan: (name: string) => PointGrid;
}

/** Inputs from files: each name with its file. */
export function inputsFrom(scanFiles: Readonly<Record<string, string>>): MeasureInputs {
  return {
    scan: (name) => {
      const file = scanFiles[name];
      if (file === undefined)
        throw new GridFileError(`Expected a grid file of the scan ${name.slice(0, 12)}, got none.`);
      return gridIn(file);
    },
  };
}
