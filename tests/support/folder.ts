import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A folder of the test's own; `dispose` removes it with all that is in it. */
export function testFolder(): { path: string; dispose: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'slipjoint-'));
  return { path, dispose: () => rmSync(path, { recursive: true, force: true }) };
}
