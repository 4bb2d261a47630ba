import { join } from 'node:path';
import { expect, it } from 'vitest';
import { testFolder } from '../support/folder.ts';
import { runKillCycles } from './killCycles.ts';
import { runSigningCycles } from './signingCycles.ts';

it('loses no acknowledged edit and no sign-off in 3 kills, seed 1', async () => {
  const folder = testFolder();
  const report = await runKillCycles({ dataDir: join(folder.path, 'data'), cycles: 3, seed: 1 });
  folder.dispose();
  expect(report).toMatchObject({ lost: [], diverged: [], signaturesLost: 0, chainFaults: [] });
  expect(report.acknowledged).toBeGreaterThan(20);
}, 120_000);

it('has each signature once or not at all after 3 kills during signing, seed 5', async () => {
  const folder = testFolder();
  const report = await runSigningCycles({ dataDir: join(folder.path, 'data'), cycles: 3, seed: 5 });
  folder.dispose();
  expect(report.faults).toEqual([]);
  expect(report.offered).toBeGreaterThanOrEqual(3);
}, 120_000);
