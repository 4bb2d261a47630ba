// `npm start`: from a clone with nothing in it to the demo job on the screen; quick when all is there.
import { buildAll, installPackages, orFail, top } from './ready.mjs';

await orFail(async () => {
  await installPackages();
  await buildAll();
  // In this process, so that a stop signal reaches the server itself.
  process.chdir(top);
  process.argv = [process.argv[0], 'slipjoint', 'demo', ...process.argv.slice(2)];
  await import('../dist/server/cli/main.js');
});
