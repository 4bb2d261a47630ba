import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const sources = new URL('../../../../server/measure/kernels/assembly/', import.meta.url);
const program = fileURLToPath(new URL('../native/twin.cpp', import.meta.url));
/** Each after those it uses. */
const files = ['layout', 'vector', 'scratch', 'waiting', 'triangle', 'field', 'pairs'];
/** Those that others use. */
const USED = files.indexOf('field');
const COMPILER = 'g++';
const TYPES = 'usize|u64|u32|i32|f32|f64|v128|bool|void';

/** AssemblyScript as the kernels are written in it, as C++: declarations, casts and names differ, statements do not. */
function asCpp(name: string, source: string): string {
  const body = source
    .replace(/^import \{[^}]*\} from '\.\/\w+';$/gm, '')
    .replace(/^\/\/ @ts-ignore: decorator\n@inline$/gm, '')
    .replace(/\b(f32x4|i32x4|v128|memory)\.(\w+)/g, '$1_$2')
    // A cast stands where no function's name is before it.
    .replace(new RegExp(`(?<!\\w)<(${TYPES})>`, 'g'), '($1)')
    .replaceAll('===', '==')
    .replace(/,(\s*\))/g, '$1')
    .replace(/^export /gm, '')
    .replace(/^( *)(let|const) (.*);$/gm, (_, indent: string, kind: string, all: string) =>
      parted(all)
        .map((one) => `${indent}${declared(one, kind === 'const' && indent === '')};`)
        .join('\n'),
    )
    .replace(/\b(let|const) (\w+): (\w+) = /g, '$3 $2 = ')
    .replace(/^( *)const (\w+) = /gm, '$1const auto $2 = ')
    .replace(/\(let /g, '(auto ');
  const heads: string[] = [];
  const written = body.replace(
    new RegExp(`^function (\\w+)\\(([^)]*)\\): (${TYPES}) \\{`, 'gm'),
    (_, called: string, list: string, gives: string) => {
      const head = `static inline ${gives} ${called}(${list.replace(/(\w+): (\w+)/g, '$2 $1').replace(/,\s*$/, '')})`;
      heads.push(`${head};`);
      return `${head} {`;
    },
  );
  const uses = files.slice(0, USED).filter((one) => one !== name && files.indexOf(one) < files.indexOf(name));
  const using = uses.map((one) => `using namespace ${one}_as;`);
  return [`namespace ${name}_as {`, ...using, ...heads, written, '}'].join('\n');
}

/** A list of declarations at its commas that stand in no brackets. */
function parted(list: string): string[] {
  const parts = [''];
  let depth = 0;
  for (const letter of list) {
    if ('([{'.includes(letter)) depth++;
    if (')]}'.includes(letter)) depth--;
    if (letter === ',' && depth === 0) parts.push('');
    else parts.push((parts.pop() ?? '') + letter);
  }
  return parts.map((part) => part.trim());
}

function declared(one: string, shared: boolean): string {
  const [, name = '', type = 'auto', value = ''] = /^(\w+)(?:: (\w+))? = (.*)$/s.exec(one) ?? [];
  return `${shared ? 'static const ' : ''}${type} ${name} = ${value}`;
}

/** Where things stand in the memory of a kernel; see native/twin.cpp. */
export interface KernelImage {
  readonly bytes: Uint8Array;
  /** Addresses of nodes, triangles, x, y, z, levels, distances and pairs, then the counts of points and of levels. */
  readonly places: readonly number[];
  /** Margin of the smallest distance, mm. */
  readonly slack: number;
}

/** What the twin answers: CPU milliseconds, least of some runs, and what it found (mm, or a percentage). */
export interface TwinAnswer {
  readonly name: string;
  readonly time: number;
  readonly found: number;
}

/** The answers of the kernel's source compiled natively; the reason where it does not compile here or does not run. */
export function nativeTwin({ bytes, places, slack }: KernelImage): readonly TwinAnswer[] | string {
  const folder = mkdtempSync(join(tmpdir(), 'slipjoint-twin-'));
  try {
    const text = files.map((name) => asCpp(name, readFileSync(new URL(`${name}.as`, sources), 'utf8'))).join('\n');
    writeFileSync(join(folder, 'kernel.inc'), text);
    // The vector width of the kernel, and no fused multiply and add, which it has not.
    const flags = ['-O3', '-msse4.1', '-ffp-contract=off', '-std=c++17', `-I${folder}`];
    const built = spawnSync(COMPILER, [...flags, program, '-o', join(folder, 'twin')], { encoding: 'utf8' });
    if (built.status !== 0) return `g++ does not compile the twin: ${(built.stderr ?? '').slice(0, 2000)}`;
    writeFileSync(join(folder, 'memory'), bytes);
    const words = [...places.map(String), String(slack)];
    const { status, stdout } = spawnSync(join(folder, 'twin'), [join(folder, 'memory'), ...words], {
      encoding: 'utf8',
    });
    if (status !== 0) return `the twin ends with ${status}`;
    return stdout
      .trim()
      .split('\n')
      .map((line) => line.split('\t'))
      .map(([name = '', time, found]) => ({ name, time: Number(time), found: Number(found) }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
