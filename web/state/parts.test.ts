import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { glbBytes } from '../../shared/geometry/mesh/exportGlb.ts';
import { boxMesh } from '../../shared/geometry/mesh/shapes.fixture.ts';
import type { AskedReport, PartView } from '../../shared/protocol/http.ts';
import { openPartShelf } from './parts.ts';
import { createStore } from './store.ts';

const part = (id: string, over: Partial<PartView> = {}): PartView => ({
  ...{ id, sha256: id.repeat(64).slice(0, 64), name: `${id}.stl`, bytes: 10, triangles: 12, format: 'stl-binary' },
  ...{ unit: 'mm', unitStated: false, bounds: { min: [0, 0, 0], max: [1, 1, 1] } },
  ...{ uploadedBy: 'p', createdAt: '2026-01-01T00:00:00.000Z' },
  ...over,
});
const clean = {
  ...{ triangles: 12, openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0, shells: 1, selfIntersections: 0 },
  ...{ selfIntersectionsComplete: true, degenerate: 0, duplicate: 0, holes: 0, volume: 1, area: 6, at: null },
};

/** What the server answers next, by path; asked for and never answered is a fault of the test. */
let answers: Map<string, (() => Response)[]>;
let asked: string[];
const json =
  (body: unknown, status = 200) =>
  () =>
    Response.json(body, { status });
const will = (path: string, ...next: (() => Response)[]) => void answers.set(path, next);
const settle = () => vi.advanceTimersByTimeAsync(0);

beforeEach(() => {
  vi.useFakeTimers();
  answers = new Map();
  asked = [];
  vi.stubGlobal('fetch', async (path: string) => {
    asked.push(path);
    const answer = answers.get(path)?.shift();
    if (!answer) throw new Error(`nobody expected ${path}`);
    return answer();
  });
  will('/api/projects/j/parts', json({ parts: [part('a')] }));
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** A shelf that has its first list. */
async function shelf() {
  const feed = { parts: createStore<readonly PartView[] | null>(null) };
  const opened = openPartShelf('j', feed);
  await settle();
  return { ...opened, feed };
}

it('lists what is there, and what comes later', async () => {
  const { list, feed } = await shelf();
  expect(list.get().map(({ id }) => id)).toEqual(['a']);
  feed.parts.set([part('a'), part('b')]);
  expect(list.get().map(({ id }) => id)).toEqual(['a', 'b']);
});

it('finds the part of a piece by content and unit', async () => {
  const { find } = await shelf();
  const { sha256 } = part('a');
  expect(find({ mesh: sha256, meshUnit: 'mm' })?.id).toBe('a');
  expect(find({ mesh: sha256, meshUnit: 'in' })).toBeNull();
  expect(find({ mesh: undefined, meshUnit: undefined })).toBeNull();
});

it('fetches a surface once, and again after a failure', async () => {
  const { mesh, trouble } = await shelf();
  const path = '/api/projects/j/parts/a/mesh?format=glb';
  const glb = () => new Response(glbBytes(boxMesh([1, 1, 1])));
  will(path, () => new Response('', { status: 503 }), glb);
  await expect(mesh(part('a'))).rejects.toThrow(/a\.stl could not be fetched \(503\)/);
  expect(trouble.get()).toMatch(/503/);
  const [first, second] = await Promise.all([mesh(part('a')), mesh(part('a'))]);
  expect(first).toBe(second);
  expect(first.indices).toHaveLength(36);
  expect(asked.filter((one) => one === path)).toHaveLength(2);
});

it('names the files a part can be taken away as', async () => {
  const { address } = await shelf();
  expect(address(part('a'), '3mf')).toBe('/api/projects/j/parts/a/mesh?format=3mf');
  expect(address(part('a'), 'stl', [0.1, -0.2, 0])).toBe('/api/projects/j/parts/a/mesh?format=stl&turn=0.1,-0.2,0');
});

it('asks again until a report is there', async () => {
  const { report } = await shelf();
  const path = '/api/projects/j/parts/a/report';
  const pending = json({ state: 'pending' } satisfies AskedReport, 202);
  will(path, pending, pending, json({ state: 'done', result: clean } satisfies AskedReport));
  const answer = report(part('a'), new AbortController().signal);
  await vi.runAllTimersAsync();
  expect(await answer).toEqual({ state: 'done', result: clean });
  expect(asked.filter((one) => one === path)).toHaveLength(3);
});

it('stops asking when nobody looks any more', async () => {
  const { report } = await shelf();
  const path = '/api/projects/j/parts/a/report';
  will(path, json({ state: 'pending' }, 202));
  const stop = new AbortController();
  const answer = report(part('a'), stop.signal).catch((error: Error) => error.message);
  await settle();
  stop.abort(new Error('closed'));
  await vi.runAllTimersAsync();
  expect(await answer).toBe('closed');
  expect(asked.filter((one) => one === path)).toHaveLength(1);
});

it('asks for poses in the powder chosen', async () => {
  const { poses } = await shelf();
  const done = { state: 'done', result: { overhang: 0.7, volume: 1e-5, poses: [] } } as const;
  will('/api/projects/j/parts/a/poses?alloy=CoCr', json(done));
  will('/api/projects/j/parts/a/poses', json({ state: 'failed', reason: 'not read' }));
  const { signal } = new AbortController();
  expect(await poses(part('a'), 'CoCr', signal)).toEqual(done);
  expect(await poses(part('a'), undefined, signal)).toEqual({ state: 'failed', reason: 'not read' });
});
