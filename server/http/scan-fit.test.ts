import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Motion } from '../../shared/geometry/motion.ts';
import { movedBy } from '../../shared/geometry/motion.ts';
import { boxOf, motionOf } from '../../shared/geometry/placedScan.ts';
import { scanListSchema } from '../../shared/protocol/http.ts';
import type { Role } from '../../shared/protocol/roles.ts';
import { askedScanFitSchema, fittedScanSchema, type ScanFit } from '../../shared/protocol/scanFit.ts';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { type Answer, type TestServer, testServer, type Visitor } from '../../tests/support/http-server.ts';
import type { ScanFile, ScanOnCar, StandingFit } from './parts.ts';

/* How a fit is measured is told by its own test: here an answer is given, and copies are made of text of a few points. */

const left = (rms: number) => ({ rms, size95: 2 * rms });
const good: ScanFit = {
  ...{ before: left(2e-3), after: left(1e-4), shift: 3e-3, compared: 900, overlap: 0.4, settled: true },
};
/** A quarter turn about z and a step of 10 mm. */
const step: Motion = {
  rotation: [
    [0, -1, 0],
    [1, 0, 0],
    [0, 0, 1],
  ],
  translation: [0.01, 0, 0],
};

let server: TestServer;
let project: string;
let designer: Visitor;
let entries: Map<string, unknown>;
let stand: StandingFit;
let asked: { readonly moving: ScanOnCar; readonly onto: ScanOnCar }[];
let copied: { readonly scan: ScanFile; readonly motion: Motion; readonly out: string }[];
let told: string[];

beforeEach(async () => {
  [asked, copied, told] = [[], [], []];
  stand = { state: 'done', motion: step, result: good };
  server = await testServer({
    live: { entries: async () => entries, scanAdded: async (id) => void told.push(id) },
    scanFits: {
      ask: async (moving, onto) => {
        asked.push({ moving, onto });
        return stand;
      },
      copy: async (scan, motion) => {
        const lines = readFileSync(scan.file, 'utf8').trim().split('\n');
        const moved = lines.map((line) => {
          const [x = 0, y = 0, z = 0] = line.split(' ').map((word) => Number(word) * scan.metresPerUnit);
          return movedBy(motion, [x, y, z]).map((one) => (one * 1000).toFixed(3));
        });
        const out = join(server.dataDir, `copy-${copied.length}`);
        writeFileSync(out, moved.map((point) => point.join(' ')).join('\n'));
        copied.push({ scan, motion, out });
        return out;
      },
    },
  });
  project = await server.project({ lead: ['lead'], draw: ['designer'], rev: ['reviewer'] });
  designer = (await server.person('draw')).visitor;
  const [hood, rail] = [await added('hood.xyz', '0.1 0 0'), await added('rail.e57', '0.2 0 0\n0.3 0 0')];
  entries = baseEntries({ ...component('c1', hood), ...component('c2', rail) });
});
afterEach(() => server.close());

const component = (id: string, sha256: string, more: Readonly<Record<string, unknown>> = {}) =>
  Object.fromEntries(
    Object.entries({ '': 2, '.name': `Thing ${id}`, '.scan': sha256, '.scanUnit': 'm', ...more }).map(
      ([key, value]) => [`components.${id}${key}`, value],
    ),
  );

async function added(name: string, content: string, format = 'xyz'): Promise<string> {
  const { sha256, bytes } = await server.blobs.write(Buffer.from(content));
  const { account } = await server.person('lead');
  const bounds = { min: [0, 0, 0] as [number, number, number], max: [1, 0, 0] as [number, number, number] };
  await server.records.addScan({
    ...{ id: `s-${name}-${project}`, projectId: project, sha256, name, bytes, uploadedBy: account.id, unit: 'm' },
    ...{ points: 2, unplaced: 0, format, bounds, spacing: null, createdAt: '2026-01-01T00:00:00.000Z' },
  });
  return sha256;
}

const ask = (component = 'c1', onto = 'c2', by = designer) =>
  by.send('GET', `/api/projects/${project}/scan-fit?component=${component}&onto=${onto}`);
const use = (component = 'c1', onto = 'c2', by = designer) =>
  by.send('POST', `/api/projects/${project}/scan-fit`, { component, onto });
const reasonOf = ({ status, body }: Answer): string => {
  const answer = askedScanFitSchema.parse(body);
  return status === 200 && answer.state === 'failed' ? answer.reason : JSON.stringify(answer);
};
const scans = async () =>
  scanListSchema.parse((await designer.send('GET', `/api/projects/${project}/scans`)).body).scans;

/** The datum points lie 0.5 m off in the scan along z, so that the fit is a step back along z. */
function turnToDatums(): void {
  for (const [path, value] of [...entries])
    if (/^datums\.\w+\.scanZ$/.test(path)) entries.set(path, Number(value) + 0.5);
  for (const id of ['d1', 'd2', 'd3', 'd4']) entries.set(`datums.${id}.carY`, 0);
}

describe('how well a scan can be laid on another', () => {
  it('is told as it stands: being measured, then what is left before and after', async () => {
    stand = { state: 'pending' };
    const first = await ask();
    expect([first.status, first.headers.get('retry-after'), first.body]).toEqual([202, '1', { state: 'pending' }]);
    stand = { state: 'done', motion: step, result: good };
    const { status, body } = await ask();
    expect([status, body]).toEqual([200, { state: 'done', result: good }]);
    const [{ moving, onto } = { moving: undefined, onto: undefined }] = asked;
    expect([moving?.scan.name, onto?.scan.name, moving?.scan.unit]).toEqual(['hood.xyz', 'rail.e57', 'm']);
    expect([moving?.name, onto?.name]).toEqual([`${entries.get('components.c1.scan')}-m`, `${onto?.scan.sha256}-m`]);
    stand = { state: 'failed', reason: 'Expected scans that overlap, got none.' };
    expect(reasonOf(await ask())).toBe('Expected scans that overlap, got none.');
  });

  it('is asked with the scans where they lie on the car, and cut to what of them counts', async () => {
    turnToDatums();
    entries.set('components.c1.placed', 'by-datums').set('components.c2.fromX', -0.2);
    await ask();
    const [pair] = asked;
    expect(motionOf(pair?.moving.name ?? '')?.translation[2]).toBeCloseTo(-0.5, 9);
    expect(boxOf(pair?.onto.name ?? '')?.least[0]).toBe(-0.2);
  });

  it('cannot be told without two scans of this job, and says why', async () => {
    expect([(await ask('c9')).status, (await ask('c1', 'c9')).status]).toEqual([404, 404]);
    expect(reasonOf(await ask('c1', 'c1'))).toMatch(/Thing c1 and Thing c1 are in the same scan/);
    entries.set('components.c2.scan', 'b'.repeat(64));
    expect(reasonOf(await ask())).toMatch(/scan of Thing c2 has not been uploaded to this job/);
    entries.delete('components.c2.scan');
    expect(reasonOf(await ask())).toMatch(/Thing c2: .*Scan file/);
    entries.set('components.c1.fromX', 2).set('components.c1.toX', 1);
    expect(reasonOf(await ask())).toMatch(/Thing c1: .*ends beyond where it begins/);
    expect(asked).toEqual([]);
    for (const query of ['', '?component=c1', '?component=c1&onto=c2&more=1'])
      expect((await designer.send('GET', `/api/projects/${project}/scan-fit${query}`)).status).toBe(400);
  });

  it('is not told of a surface of triangles, whose copy would be of points; onto one it is', async () => {
    const surface = await added('bay.stl', '0 0 0', 'stl-binary');
    for (const [path, value] of Object.entries(component('c3', surface))) entries.set(path, value);
    expect(reasonOf(await ask('c3', 'c2'))).toMatch(/scan of Thing c3 is a surface of triangles/);
    expect((await ask('c2', 'c3')).body).toMatchObject({ state: 'done' });
  });
});

describe('the copy that lies on the other scan', () => {
  it('is a scan of its own in millimetres; the scan as it was brought stays', async () => {
    const before = await scans();
    const answer = await use();
    expect(answer.status).toBe(201);
    const { scan, placed } = fittedScanSchema.parse(answer.body);
    const { account } = await server.person('draw');
    expect([placed, scan]).toMatchObject([
      'as-uploaded',
      { name: 'hood fitted.ply', unit: 'mm', points: 1, uploadedBy: account.id },
    ]);
    // 0.1 m along x, turned to y, and 10 mm along x.
    for (const [k, x] of [0.01, 0.1, 0].entries()) expect(scan.bounds.min[k]).toBeCloseTo(x, 9);
    expect((await scans()).map(({ id }) => id).sort()).toEqual([...before.map(({ id }) => id), scan.id].sort());
    expect(await server.blobs.verify(scan.sha256)).toBe(true);
    expect([told, copied.map(({ out }) => existsSync(out))]).toEqual([[project], [false]]);
  });

  it('is the same scan when it is made again, also at once', async () => {
    const [one, other] = await Promise.all([use(), use()]);
    const third = await use();
    expect([one.status, other.status, third.status]).toEqual([201, 201, 201]);
    expect([other.body, third.body]).toEqual([one.body, one.body]);
    expect(await scans()).toHaveLength(3);
    expect(copied.map(({ out }) => existsSync(out))).toEqual([false, false, false]);
  });

  it('lies in the frame of the other scan, and is placed as that is', async () => {
    turnToDatums();
    entries.set('components.c2.placed', 'by-datums');
    const { scan, placed } = fittedScanSchema.parse((await use()).body);
    expect(placed).toBe('by-datums');
    for (const [k, x] of [0.01, 0.1, 0.5].entries()) expect(scan.bounds.min[k]).toBeCloseTo(x, 9);
    // The other way round: from the frame of its own scan to the car, and on.
    const back = fittedScanSchema.parse((await use('c2', 'c1')).body);
    expect(back.placed).toBe('as-uploaded');
    for (const [k, x] of [0.01, 0.2, -0.5].entries()) expect(back.scan.bounds.min[k]).toBeCloseTo(x, 9);
  });

  it.each<[string, StandingFit, RegExp]>([
    ['that is being measured', { state: 'pending' }, /being measured/],
    ['that cannot be', { state: 'failed', reason: 'The scans do not overlap.' }, /do not overlap/],
    [
      'that did not come to rest',
      { state: 'done', motion: step, result: { ...good, settled: false } },
      /did not come to rest.*overlap too little/,
    ],
    [
      'that is no better',
      { state: 'done', motion: step, result: { ...good, after: good.before } },
      /no less than there was before/,
    ],
  ])('is not made of a fit %s', async (_, how, words) => {
    stand = how;
    const { status, body } = await use();
    expect([status, body]).toMatchObject([422, { code: 'fit-refused', detail: expect.stringMatching(words) }]);
    expect([copied, (await scans()).length, told]).toEqual([[], 2, []]);
  });

  it('goes on being made after one that failed', async () => {
    await added('torn.xyz', 'no number at all');
    const torn = (await scans()).find(({ name }) => name === 'torn.xyz');
    entries.set('components.c1.scan', torn?.sha256);
    expect((await use()).status).toBe(500);
    expect([copied.map(({ out }) => existsSync(out)), server.alarms.length]).toEqual([[false], 1]);
    expect((await use('c2', 'c1')).status).toBe(201);
  });
});

describe('who may', () => {
  it.each(['reviewer', 'printer', 'machinist', 'welder'] satisfies Role[])('not lay scans: a %s', async (role) => {
    project = await server.project({ lead: ['lead'], [role]: [role] });
    const { visitor } = await server.person(role);
    for (const answer of [await ask('c1', 'c2', visitor), await use('c1', 'c2', visitor)])
      expect([answer.status, answer.body]).toMatchObject([403, { code: 'wrong-role', came: role }]);
  });

  it('lay scans: members only', async () => {
    await server.project({ other: ['lead'] });
    const stranger = (await server.person('other')).visitor;
    for (const [who, status] of [
      [stranger, 404],
      [server.visitor(), 401],
    ] as const)
      expect([(await ask('c1', 'c2', who)).status, (await use('c1', 'c2', who)).status]).toEqual([status, status]);
    expect(asked).toEqual([]);
  });
});
