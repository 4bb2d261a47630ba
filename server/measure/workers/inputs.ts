import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { type Motion, movedGrid } from '../../../shared/geometry/motion.ts';
import { motionOf, placedScan, uploadedScan } from '../../../shared/geometry/placedScan.ts';
import { fileStamp } from '../flat-file.ts';
import { GridFileError, gridBytes, readGridFile } from '../grid-file.ts';
import { MeshFileError, meshBytes, readMeshFile } from '../mesh-file.ts';
import { createShelf } from '../shelf.ts';

const grids = createShelf({ load: readGridFile, stamp: fileStamp, size: gridBytes });
const meshes = createShelf({ load: readMeshFile, stamp: fileStamp, size: meshBytes });

/** The grid in a file, kept for the next job. @throws GridFileError, ReadFailure */
export const gridIn = (file: string): PointGrid => grids.get(file);

/** The mesh in a file, kept for the next job. @throws MeshFileError, ReadFailure */
export const meshIn = (file: string): TriangleMesh => meshes.get(file);

/** Grids where a motion puts them, by file and motion: sorting some million points anew is worth keeping. */
const moved = createShelf({
  load: (placed) => movedGrid(gridIn(uploadedScan(placed)), motionIn(placed)),
  stamp: (placed) => fileStamp(uploadedScan(placed)),
  size: gridBytes,
});

function motionIn(name: string): Motion {
  const motion = motionOf(name);
  if (!motion) throw new GridFileError(`Expected twelve numbers that place the scan ${name.slice(0, 12)}, got others.`);
  return motion;
}

/** What a measurement can look at: what its job names, by that name. */
export interface MeasureInputs {
  /** The points of a scan. @throws GridFileError, ReadFailure */
  readonly scan: (name: string) => PointGrid;
  /** The mesh of a part. @throws MeshFileError, ReadFailure */
  readonly mesh: (name: string) => TriangleMesh;
}

type Files = Readonly<Record<string, string>>;

/** Inputs from files: each name with its file. */
export function inputsFrom(files: { readonly scanFiles: Files; readonly meshFiles: Files }): MeasureInputs {
  return {
    scan: (name) => {
      const file = files.scanFiles[uploadedScan(name)];
      if (file === undefined)
        throw new GridFileError(`Expected a grid file of the scan ${name.slice(0, 12)}, got none.`);
      return name === uploadedScan(name) ? gridIn(file) : moved.get(placedScan(file, motionIn(name)));
    },
    mesh: (name) => {
      const file = files.meshFiles[name];
      if (file === undefined)
        throw new MeshFileError(`Expected a mesh file of the part ${name.slice(0, 12)}, got none.`);
      return meshIn(file);
    },
  };
}
