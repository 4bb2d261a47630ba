import { join } from 'node:path';
import { expect, it } from 'vitest';
import { testFolder } from '../support/folder.ts';
import { runKillCycles } from './killCycles.ts';

it('loses no acknowledged edit and no sign-off in 3 kills, seed 1', async () => {
  const folder = testFolder();
  const report = await runKillCycles({ dataDir: join(folder.path, 'data'), cycles: 3, seed: 1 });
  folder.dispose();
  expect(report).toMatchObject({ lost: [], diverged: [], signaturesLost: 0, chainFaults: [] });
  expect(report.acknowledged).toBeGreaterThan(20);
}, 120_000);
