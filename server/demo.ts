import { randomBytes } from 'node:crypto';
import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { demoPoints } from '../prisma/demo/bay.ts';
import { demoComponents, demoSpec } from '../prisma/demo/header.ts';
import { demoPiece, demoPieces } from '../prisma/demo/pieces.ts';
import type { Role } from '../shared/gates/roles.ts';
import { stlBytes } from '../shared/geometry/mesh/exportStl.ts';
import { isoTime, newId } from './ambient.ts';
import type { RunningServer } from './main.ts';
import { writeBinaryPly } from './measure/ply.ts';
import { createMeasurePool, type MeasurePool } from './measure/pool.ts';
import { partMeshes } from './parts.ts';
import { firstSpecUpdate } from './rooms/firstState.ts';
import { scanKey, scanMeasure } from './scans.ts';

/** An account of the demo, with its password as printed once. */
export interface DemoAccount {
  readonly login: string;
  readonly password: string;
  readonly roles: readonly Role[];
}

const people: readonly (readonly [string, string, readonly Role[]])[] = [
  ['lead', 'Shop lead', ['lead']],
  ['designer', 'Remote designer', ['designer']],
  ['scanner', 'Scan contractor', ['scanner']],
  ['welder', 'Shop welder', ['welder']],
  ['reviewer', 'Visiting reviewer', ['reviewer']],
];

const SEED = 20;
const MARK = 'demo-project';
const random = (bytes: number): Uint8Array => randomBytes(bytes);
const now = (): string => isoTime(Date.now());

/** Four words that no other copy of the demo has: a password that can be typed in the shop. */
function inventPassword(): string {
  const words = [
    'anvil',
    'bronze',
    'collet',
    'dowel',
    'ferrule',
    'gusset',
    'hammer',
    'indexer',
    'jig',
    'keyway',
    'lathe',
    'mandrel',
    'nipple',
    'oxide',
    'pilot',
    'quench',
    'reamer',
    'scriber',
    'tongs',
    'upset',
    'vise',
    'washer',
    'yoke',
    'zinc',
    'arbor',
    'burr',
    'chuck',
    'datum',
    'emery',
    'flux',
    'gauge',
    'hone',
  ];
  return [...random(4)]
    .map((b) => words[b % words.length])
    .concat(Buffer.from(random(3)).toString('hex'))
    .join('-');
}

async function addPeople(server: RunningServer): Promise<{ accounts: DemoAccount[]; ids: string[] }> {
  const accounts: DemoAccount[] = [];
  const ids: string[] = [];
  for (const [login, name, roles] of people) {
    const password = inventPassword();
    const made = await server.auth.addAccount({ login, name, password });
    if ('problem' in made) throw new Error(`demo account ${login}: ${made.problem}`);
    accounts.push({ login, password, roles });
    ids.push(made.id);
  }
  return { accounts, ids };
}

/** Who brings the demo's files, and the threads that read them. */
interface Bringing {
  readonly pool: MeasurePool;
  readonly project: string;
  readonly by: string;
}

/** Generates the bay's points and the printed pieces, stores them as files like uploads, and reads them. */
async function addFiles(
  server: RunningServer,
  project: string,
  by: string,
): Promise<{ readonly scans: Map<string, string>; readonly parts: Map<string, string> }> {
  const pool = createMeasurePool();
  try {
    const [scans, parts] = [new Map<string, string>(), new Map<string, string>()];
    for (const id of demoComponents) scans.set(id, await addScan(server, id, { pool, project, by }));
    for (const id of demoPieces) parts.set(id, await addPart(server, id, { pool, project, by }));
    return { scans, parts };
  } finally {
    await pool.destroy();
  }
}

/** Stores a file like an upload of numbers in millimetres. */
async function brought({ store }: RunningServer, name: string, content: Uint8Array) {
  const file = join(await mkdtemp(join(tmpdir(), 'slipjoint-demo-')), name);
  await writeFile(file, content);
  const { sha256, bytes } = await store.blobs.adopt(file);
  const kept = await store.blobs.localFile(sha256);
  if (kept === undefined) throw new Error(`the demo file ${name} was not kept`);
  return { bytes, upload: { file: kept, name, sha256, unit: 'mm' as const, metresPerUnit: 0.001 } };
}

async function addPart(server: RunningServer, id: string, { pool, project, by }: Bringing): Promise<string> {
  const { store } = server;
  const { bytes, upload } = await brought(server, `${id}.stl`, stlBytes(demoPiece(id)));
  const { sha256, name } = upload;
  // Nothing is measured while the demo is put in place.
  const meshes = partMeshes({ pool, ask: () => ({ state: 'waiting' }), files: store.meshes });
  const reading = await meshes.readPart(upload);
  if (reading.kind === 'problem') throw new Error(`demo part ${name}: ${reading.message}`);
  const { kind: _, ...figures } = reading;
  await store.records.addPart({
    id: newId(random),
    projectId: project,
    sha256,
    name,
    bytes,
    uploadedBy: by,
    createdAt: now(),
    ...figures,
  });
  return sha256;
}

async function addScan(server: RunningServer, component: string, { pool, project, by }: Bringing): Promise<string> {
  const { store } = server;
  const points = writeBinaryPly(demoPoints(component, SEED), 1000);
  const { bytes, upload: scan } = await brought(server, `${component}.ply`, points);
  const { sha256, name } = scan;
  const reading = await scanMeasure(pool, store.grids).readScan(scan);
  if (reading.kind === 'problem') throw new Error(`demo scan ${scanKey(scan)}: ${reading.message}`);
  const { kind: _, ...figures } = reading;
  await store.records.addScan({
    id: newId(random),
    projectId: project,
    sha256,
    name,
    bytes,
    unit: 'mm',
    uploadedBy: by,
    createdAt: now(),
    ...figures,
  });
  return sha256;
}

async function writeSpec(
  { store }: RunningServer,
  { project, by }: { project: string; by: string },
  entries: ReadonlyMap<string, unknown>,
): Promise<void> {
  const { update, clientId } = firstSpecUpdate(entries);
  await store.journal.append(project, 'spec', update, by);
  await store.records.bindClient({ projectId: project, doc: 'spec', clientId, accountId: by });
}

/** Puts the demo job into an empty server; null when it is there already. Passwords exist only in what is returned. */
export async function seedDemo(
  server: RunningServer,
): Promise<{ readonly project: string; readonly accounts: readonly DemoAccount[] } | null> {
  const { records } = server.store;
  if ((await records.setting(MARK)) !== undefined) return null;
  if (await records.anyAccount())
    throw new Error('this data folder already holds accounts; choose an empty one with SLIPJOINT_DATA');
  const { accounts, ids } = await addPeople(server);
  const [lead = ''] = ids;
  const project = newId(random);
  await records.addProject(
    { id: project, name: 'Hillclimb five, top-feed header', createdAt: now() },
    { projectId: project, accountId: lead, roles: ['lead'] },
  );
  for (const [i, id] of ids.entries())
    await records.putMember({ projectId: project, accountId: id, roles: accounts[i]?.roles ?? [] });
  const { scans, parts } = await addFiles(server, project, lead);
  await writeSpec(server, { project, by: lead }, demoSpec(scans, parts));
  await records.putSetting(MARK, project);
  return { project, accounts };
}

/** The demo job's id, when it was seeded. */
export async function demoProject(server: RunningServer): Promise<string | undefined> {
  return server.store.records.setting(MARK);
}
