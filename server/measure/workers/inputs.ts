import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { cutGrid, movedGrid } from '../../../shared/geometry/motion.ts';
import { boxOf, motionOf, uploadedScan } from '../../../shared/geometry/placedScan.ts';
import { fileStamp } from '../flat-file.ts';
import { GridFileError, gridBytes, readGridFile } from '../grid-file.ts';
import { MeshFileError, meshBytes, readMeshFile } from '../mesh-file.ts';
import { ReadFailure } from '../readers/problem.ts';
import { createShelf } from '../shelf.ts';

const grids = createShelf({ load: readGridFile, stamp: fileStamp, size: gridBytes });
const meshes = createShelf({ load: readMeshFile, stamp: fileStamp, size: meshBytes });

/** The grid in a file, kept for the next job. @throws GridFileError, ReadFailure */
export const gridIn = (file: string): PointGrid => grids.get(file);

/** The mesh in a file, kept for the next job. @throws MeshFileError, also when there is no file: it is made again from the part */
export function meshIn(file: string): TriangleMesh {
  try {
    return meshes.get(file);
  } catch (error) {
    if (error instanceof ReadFailure) throw new MeshFileError('The mesh file of the part cannot be read.');
    throw error;
  }
}

/** Grids moved and cut as their names say, by file: sorting some million points anew is worth keeping. */
const parts = createShelf({
  load: (name) => {
    const [motion, box] = [motionOf(name), boxOf(name)];
    const whole = gridIn(uploadedScan(name));
    const placed = motion ? movedGrid(whole, motion) : whole;
    return box ? cutGrid(placed, box) : placed;
  },
  stamp: (name) => fileStamp(uploadedScan(name)),
  size: gridBytes,
});

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
      const suffix = name.slice(uploadedScan(name).length);
      return suffix === '' ? gridIn(file) : parts.get(file + suffix);
    },
    mesh: (name) => {
      const file = files.meshFiles[name];
      if (file === undefined)
        throw new MeshFileError(`Expected a mesh file of the part ${name.slice(0, 12)}, got none.`);
      return meshIn(file);
    },
  };
}
