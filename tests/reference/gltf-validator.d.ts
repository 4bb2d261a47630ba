/** The parts of the validator's report that the tests look at; the package brings no types. */
declare module 'gltf-validator' {
  export function validateBytes(bytes: Uint8Array): Promise<{
    readonly issues: { readonly numErrors: number; readonly messages: readonly unknown[] };
    readonly info: Readonly<Record<string, unknown>>;
  }>;
}
