/** A scan of a clay rabbit, cut down and closed; the package has no types of its own. */
declare module 'bunny' {
  type Three = readonly [number, number, number];
  const bunny: { readonly positions: readonly Three[]; readonly cells: readonly Three[] };
  export default bunny;
}
