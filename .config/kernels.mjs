// Compiles the distance kernels. Their sources are AssemblyScript and end in .as: decorators on functions are no TypeScript, and
// this way no tool that reads TypeScript has to be told to look away. Unchanged sources are not compiled again.
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const top = fileURLToPath(new URL('..', import.meta.url));
const sources = join(top, 'server/measure/kernels/assembly');
const folder = join(top, 'dist/server/measure/kernels');
const flags = [
  ...['--runtime', 'stub', '--optimizeLevel', '3', '--noAssert', '--enable', 'simd', '--enable', 'threads'],
  // Of as many pages as KernelMemory gives it: several threads work in one memory.
  ...['--importMemory', '--sharedMemory', '--initialMemory', '4', '--maximumMemory', '65535'],
];

const OPTIMISED = 4;

/** What the result depends on: every source, the flags, the compiler. */
function fingerprint() {
  const hash = createHash('sha256').update(`${flags.join(' ')} ${OPTIMISED}`);
  hash.update(createRequire(import.meta.url)('assemblyscript/package.json').version);
  for (const name of readdirSync(sources).sort()) hash.update(`\0${name}\0`).update(readFileSync(join(sources, name)));
  return hash.digest('hex');
}

function read(path) {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}

/** Written beside and moved there, so that another process never reads half a file. */
function put(name, content) {
  const path = join(folder, name);
  const part = `${path}.${process.pid}`;
  writeFileSync(part, content);
  renameSync(part, path);
}

async function compile() {
  // The compiler is large: it is loaded only when there is something to do.
  const { default: asc } = await import('assemblyscript/asc');
  let binary;
  const { error, stderr } = await asc.main(['kernel.ts', '--outFile', 'clearance.wasm', ...flags], {
    readFile: (name) => read(join(sources, basename(name).replace(/\.ts$/, '.as'))) ?? null,
    writeFile: (_, content) => {
      binary = content;
    },
    listFiles: () => [],
  });
  if (error || !binary) throw new Error(`The distance kernels do not compile.\n${stderr.toString()}`);
  return optimised(binary);
}

/** The level above the compiler's highest: it finds what is worked out twice, and a smallest distance takes a twelfth less. */
async function optimised(binary) {
  const { default: binaryen } = await import('binaryen');
  const has = binaryen.Features;
  const module = binaryen.readBinary(binary);
  module.setFeatures(
    has.SIMD128 | has.Atomics | has.BulkMemory | has.MutableGlobals | has.SignExt | has.NontrappingFPToInt,
  );
  // The compiler leaves its own settings behind. What is called from one place is written there whatever its size; sums stay as they are written.
  binaryen.setFastMath(false);
  binaryen.setAlwaysInlineMaxSize(2);
  binaryen.setFlexibleInlineMaxSize(20);
  binaryen.setOneCallerInlineMaxSize(-1);
  binaryen.setAllowInliningFunctionsWithLoops(false);
  binaryen.setOptimizeLevel(OPTIMISED);
  binaryen.setShrinkLevel(0);
  module.optimize();
  const better = module.emitBinary();
  module.dispose();
  return better;
}

/** Compiles the kernels unless what is there comes from these very sources. */
export async function compileKernels() {
  const wanted = fingerprint();
  const [wasm, mark] = [join(folder, 'clearance.wasm'), join(folder, 'clearance.sha256')];
  if (read(mark) === wanted && read(wasm) !== undefined) return false;
  mkdirSync(folder, { recursive: true });
  put('clearance.wasm', await compile());
  put('clearance.sha256', wanted);
  return true;
}

/** For the test runner, which calls it before the first test. */
export async function setup() {
  await compileKernels();
}
