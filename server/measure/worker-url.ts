/** Bodies of measuring workers, each with what loads it from source, where it has to be something that reads TypeScript. */
const bodies = {
  measure: 'from-source.mjs',
  'crew-member': 'crew-member-from-source.mjs',
} as const;

/**
 * Where a worker's body lies, seen from a module of the server: the source and the built output keep the same folders below `server`.
 * Counted from that folder and not from the module's own, because a bundler may have put its code into another module there.
 * @param from the import.meta.url of the code that asks, wherever it ended up below `server`
 */
export function workerUrl(from: string, body: keyof typeof bodies = 'measure'): string {
  const server = from.slice(0, from.lastIndexOf('/server/') + '/server/'.length);
  return `${server}measure/workers/${from.endsWith('.ts') ? bodies[body] : `${body}.js`}`;
}
