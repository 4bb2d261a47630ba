import { statfs } from 'node:fs/promises';
import { Router } from 'express';
import type { Check, HttpParts } from './parts.ts';

/** Below this share of free space the shop is told to act while everything still works. */
const FREE = 0.05;

/** GET /healthz (the process answers) and GET /readyz (it can do its work). */
export function healthRoutes({ records, config, checks = {} }: HttpParts): Router {
  const all: Readonly<Record<string, Check>> = {
    records: () => records.probe(),
    disk: () => enoughSpace(config.dataDir),
    ...checks,
  };
  const router = Router();
  router.get('/healthz', (_req, res) => void res.json({ up: true }));
  router.get('/readyz', async (_req, res) => {
    const results = await Promise.all(Object.entries(all).map(([name, check]) => outcome(name, check)));
    const ready = results.every(({ fault }) => fault === null);
    res.status(ready ? 200 : 503).json({ ready, checks: results });
  });
  return router;
}

async function outcome(name: string, check: Check): Promise<{ name: string; fault: string | null }> {
  try {
    await check();
    return { name, fault: null };
  } catch (error) {
    return { name, fault: error instanceof Error ? error.message : String(error) };
  }
}

async function enoughSpace(folder: string): Promise<void> {
  const { bavail, blocks } = await statfs(folder);
  if (bavail < blocks * FREE) throw new Error(`less than ${FREE * 100} % of the disk is free`);
}
