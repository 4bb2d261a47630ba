import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import type { TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import { meshFault } from '../../shared/geometry/mesh/triangleMesh.ts';
import { bytesOf, FlatFileError, SLICE, sumOf, writeWhole } from './flat-file.ts';
import type { Source } from './readers/source.ts';
import { headOf, withSource } from './readers/source.ts';

/*
 * Mesh on disk, little-endian: 32 bytes of header, then xyz Float64 of every vertex in metres, then three Uint32 vertex numbers a triangle.
 *   0 magic "SJMS" · 4 version u32 · 8 vertices u32 · 12 triangles u32 · 16 CRC-32 of all that follows the header u32 · 20 zero · 28 CRC-32 of
 *   bytes 0..27 u32
 */
const MAGIC = 'SJMS';
/** Counts up with the format, and stands in the file's name. */
export const MESH_VERSION = 1;
const HEADER = 32;

/** A mesh file that cannot be used: the part has to be read again. */
export class MeshFileError extends FlatFileError {
  constructor(message: string) {
    super('bad-mesh-file', message);
    this.name = 'MeshFileError';
  }
}

/** Where the mesh of a part lies, by its name `<sha256>-<unit>`; the format's version is in it, so a newer server reads the part anew. */
export function meshFileIn(folder: string, name: string): string {
  return join(folder, `${name.replace(/[^a-z0-9-]/gi, '_')}.v${MESH_VERSION}.mesh`);
}

/** Writes a mesh so that the file is either whole and on the disk, or not there. */
export function writeMeshFile(path: string, { positions, indices }: TriangleMesh): void {
  const [places, numbers] = [bytesOf(positions), bytesOf(indices)];
  const header = Buffer.alloc(HEADER);
  header.write(MAGIC, 0, 'latin1');
  header.writeUInt32LE(MESH_VERSION, 4);
  header.writeUInt32LE(positions.length / 3, 8);
  header.writeUInt32LE(indices.length / 3, 12);
  header.writeUInt32LE(sumOf(places, numbers), 16);
  header.writeUInt32LE(crc32(header.subarray(0, 28)), 28);
  writeWhole(path, [header, places, numbers]);
}

/** Bytes a mesh takes in memory. */
export const meshBytes = ({ positions, indices }: TriangleMesh): number => positions.byteLength + indices.byteLength;

/**
 * Reads a mesh file back, checking magic, version, length, both sums and that it is a mesh.
 * @throws MeshFileError when the file is not whole; ReadFailure when it cannot be opened
 */
export function readMeshFile(path: string): TriangleMesh {
  return withSource(path, (source) => {
    const header = headOf(source, HEADER);
    checkHeader(header, source);
    const positions = new Float64Array(3 * header.readUInt32LE(8));
    const indices = new Uint32Array(3 * header.readUInt32LE(12));
    const [places, numbers] = [bytesOf(positions), bytesOf(indices)];
    fill(source, places, HEADER);
    fill(source, numbers, HEADER + places.length);
    if (sumOf(places, numbers) !== header.readUInt32LE(16))
      throw new MeshFileError('The triangles of the mesh file are damaged: their sum differs.');
    const fault = meshFault({ positions, indices });
    if (fault) throw new MeshFileError(fault.message);
    return { positions, indices };
  });
}

function fill(source: Source, bytes: Uint8Array, from: number): void {
  for (let at = 0; at < bytes.length; at += SLICE) source.read(bytes.subarray(at, at + SLICE), from + at);
}

function checkHeader(header: Buffer, source: Source): void {
  if (header.length < HEADER || header.toString('latin1', 0, 4) !== MAGIC)
    throw new MeshFileError('Expected a mesh file, got another.');
  const version = header.readUInt32LE(4);
  if (version !== MESH_VERSION) throw new MeshFileError(`Expected mesh file version ${MESH_VERSION}, got ${version}.`);
  if (crc32(header.subarray(0, 28)) !== header.readUInt32LE(28))
    throw new MeshFileError('The header of the mesh file is damaged.');
  const [vertices, triangles] = [header.readUInt32LE(8), header.readUInt32LE(12)];
  const size = HEADER + 24 * vertices + 12 * triangles;
  if (source.size === size) return;
  throw new MeshFileError(
    `Expected a mesh file of ${size} bytes for ${vertices} vertices and ${triangles} triangles, got ${source.size}.`,
  );
}
