declare module 'occt-import-js' {
  interface ImportedMesh {
    readonly attributes: { readonly position: { readonly array: readonly number[] } };
    readonly index: { readonly array: readonly number[] };
  }
  interface ImportResult {
    readonly success: boolean;
    readonly meshes?: readonly ImportedMesh[];
  }
  interface Importer {
    ReadStepFile(content: Uint8Array, params: Readonly<Record<string, string | number>>): ImportResult;
  }
  export default function start(module?: Readonly<Record<string, unknown>>): Promise<Importer>;
}
