import { parseArgs } from 'node:util';
import { type MaterialKey, materialKeys, materials } from '../../shared/trade/data/materials.ts';
import { sourceLine } from '../../shared/trade/source.ts';
import type { Console } from './console.ts';

interface Options {
  readonly wanted: readonly MaterialKey[];
  readonly json: boolean;
}

function readOptions(args: readonly string[]): Options | string {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { json: { type: 'boolean' } },
    });
    const unknown = positionals.find((p) => !materialKeys.some((k) => k === p));
    if (unknown !== undefined) return `expected one of ${materialKeys.join(', ')}, got "${unknown}"`;
    const wanted = positionals.length === 0 ? materialKeys : materialKeys.filter((k) => positionals.includes(k));
    return { wanted, json: values.json ?? false };
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

function printMaterial(key: MaterialKey, out: Console): void {
  out.line(key);
  for (const [property, { rows, unit, source }] of Object.entries(materials[key])) {
    const [first, last] = [rows[0], rows.at(-1)];
    if (!first || !last) continue;
    const scale = unit === 1 ? '' : ` x ${unit}`;
    out.line(
      `  ${property.padEnd(13)} ${first[0]} to ${last[0]} C: ${first[1]} to ${last[1]}${scale}, ${sourceLine(source)}`,
    );
  }
}

/** Lists the metals' data with range and source of every property; names narrow it down. */
export async function listMaterials(args: readonly string[], out: Console): Promise<number> {
  const options = readOptions(args);
  if (typeof options === 'string') {
    out.error(`materials: ${options}`);
    return 1;
  }
  if (options.json) out.line(JSON.stringify(Object.fromEntries(options.wanted.map((k) => [k, materials[k]])), null, 2));
  else for (const key of options.wanted) printMaterial(key, out);
  return 0;
}
