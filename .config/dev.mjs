// `npm run dev`: the server restarts and the page reloads as files change. The web server passes calls on to the other.
import { compileKernels } from './kernels.mjs';
import { generateClient, installPackages, orFail, run } from './ready.mjs';

const PORT = '8790'; // the address web/vite.config.ts passes calls on to

await orFail(async () => {
  await installPackages();
  await generateClient();
  await compileKernels();
  const env = { PORT, ORIGIN: 'http://localhost:5173' };
  const codes = await Promise.all([
    run(process.execPath, ['node_modules/tsx/dist/cli.mjs', 'watch', 'server/cli/main.ts', 'demo'], { env }),
    run(process.execPath, ['node_modules/vite/bin/vite.js', '--config', 'web/vite.config.ts', '--strictPort']),
  ]);
  process.exitCode = Math.max(...codes);
});
