// Builds the server with the folder shape of its source, so that worker files are found beside the modules that start them.
import { build } from 'esbuild';

await build({
  entryPoints: ['server/cli/main.ts', 'server/measure/workers/measure.ts', 'server/storage/embedded/journal-worker.ts'],
  outdir: 'dist',
  outbase: '.',
  bundle: true,
  packages: 'external',
  platform: 'node',
  target: 'node20',
  format: 'esm',
  sourcemap: true,
  logLevel: 'warning',
});
