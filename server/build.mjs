// Builds the server with the folder shape of its source, so that worker files are found beside the modules that start them.
import { cp } from 'node:fs/promises';
import { build } from 'esbuild';

await build({
  entryPoints: [
    'server/cli/main.ts',
    'server/measure/workers/crew-member.ts',
    'server/measure/workers/measure.ts',
    'server/papers/workers/print.ts',
    'server/storage/embedded/journal-worker.ts',
  ],
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

// Papers are set in the fonts of the app. There they have the path they have in the source, and stand with their licence.
await cp('web/fonts', 'dist/web/fonts', { recursive: true });
