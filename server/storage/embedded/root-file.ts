import { existsSync } from 'node:fs';

/**
 * A file by its path from the top of the tree, searched upwards from the asking module. The source tree and the built
 * tree keep the same shape below their tops, but a bundled module sits higher than its source did, so a path relative to
 * the module would hold in only one of them.
 */
export function rootFile(path: string, from: string): URL {
  for (let at = new URL('./', from); ; at = new URL('../', at)) {
    const file = new URL(path, at);
    if (existsSync(file)) return file;
    if (at.pathname === '/' || new URL('../', at).href === at.href) break;
  }
  throw new Error(`${path} is not in any folder above ${from}: the installation is incomplete`);
}
