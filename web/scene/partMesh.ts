/** A part's surface as the scene draws it: xyz of every vertex in metres, three vertex numbers a triangle. */
export interface PartMesh {
  readonly positions: Float32Array;
  readonly indices: Uint32Array;
}

const [JSON_CHUNK, BINARY_CHUNK] = [0x4e4f534a, 0x004e4942];
const [SINGLES, NUMBERS] = [5126, 5125];

interface Accessor {
  readonly bufferView: number;
  readonly componentType: number;
  readonly count: number;
}
interface Described {
  readonly accessors: readonly Accessor[];
  readonly bufferViews: readonly { readonly byteOffset?: number; readonly byteLength: number }[];
  readonly meshes: readonly {
    readonly primitives: readonly { readonly attributes: { readonly POSITION: number }; readonly indices: number }[];
  }[];
}

/**
 * The mesh of a binary glTF file as this server makes them: one mesh of one primitive, singles and unpacked numbers. Nothing is copied: the
 * lists look into the file, so that a large part does not hold up the page. Throws on any other file: the server has then another version.
 */
export function readPartMesh(file: ArrayBuffer): PartMesh {
  const view = new DataView(file);
  if (file.byteLength < 28 || view.getUint32(0, true) !== 0x46546c67 || view.getUint32(8, true) !== file.byteLength)
    throw new Error(`expected a whole binary glTF file, got ${file.byteLength} bytes of something else`);
  const textLength = view.getUint32(12, true);
  const binaryAt = 20 + textLength + 8;
  if (view.getUint32(16, true) !== JSON_CHUNK || view.getUint32(binaryAt - 4, true) !== BINARY_CHUNK)
    throw new Error('expected a glTF file with a description and one block of numbers');
  // The shape is checked below, where each list is cut out.
  const described = JSON.parse(new TextDecoder().decode(new Uint8Array(file, 20, textLength))) as Described;
  const primitive = described.meshes[0]?.primitives[0];
  if (!primitive) throw new Error('expected a glTF file with one mesh, got none');
  const list = (accessor: number, kind: number, each: number): readonly [number, number] => {
    const { bufferView, componentType, count } = described.accessors[accessor] ?? {
      bufferView: -1,
      componentType: 0,
      count: 0,
    };
    const span = described.bufferViews[bufferView];
    if (!span || componentType !== kind || span.byteLength < 4 * each * count)
      throw new Error(`expected a list of numbers of kind ${kind}, got kind ${componentType}`);
    return [binaryAt + (span.byteOffset ?? 0), each * count];
  };
  return {
    positions: new Float32Array(file, ...list(primitive.attributes.POSITION, SINGLES, 3)),
    indices: new Uint32Array(file, ...list(primitive.indices, NUMBERS, 1)),
  };
}
