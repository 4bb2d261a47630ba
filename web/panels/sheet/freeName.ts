/** A name for a new row that no row has yet: the noun and a number. */
export function freeName(noun: string, rows: readonly { readonly name: string | undefined }[]): string {
  for (let n = rows.length + 1; ; n++) {
    const name = `${noun} ${n}`;
    if (!rows.some((r) => r.name === name)) return name;
  }
}
