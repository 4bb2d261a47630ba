import { expect, it } from 'vitest';
import { placeOnTube } from '../../../shared/geometry/anchor.ts';
import type { Thread } from '../../../shared/markup/markup.ts';
import type { Verdict } from '../../../shared/rules/verdict.ts';
import { makeSpec } from '../../../tests/support/baseSpec.ts';
import type { ShownTiles } from '../../scene/scan.ts';
import { type BayInputs, bayView, pinPlace, runnerLine } from './view.ts';

const clash: Verdict = {
  status: 'fail',
  measured: 0.004,
  limit: { kind: 'min', value: 0.025 },
  margin: -0.021,
  witness: { at: [0, 0.16, 0.1], to: [0, 0.164, 0.1], runner: 'r1', s: 0.2 },
  key: 'bay-clearance/r1~c1',
  rule: 'bay-clearance',
  gate: 'design',
  severity: 'block',
  subject: { kind: 'runner-component', id: 'r1~c1', name: 'Runner 1 x Frame rail' },
  digest: '0',
};

const noTiles: ShownTiles = {
  index: { version: 1, points: 0, origin: [0, 0, 0], stamp: '00000000', levels: [] },
  tiles: [],
  points: () => undefined,
  want: () => undefined,
  onLoaded: () => () => undefined,
};

const inputs = (change: Partial<BayInputs> = {}): BayInputs => ({
  spec: makeSpec(),
  verdicts: new Map([[clash.key, { verdict: clash, provisional: false }]]),
  threads: [],
  focus: null,
  chosenRunner: null,
  canEdit: true,
  looks: new Map(),
  tiles: new Map([['c1', noTiles]]),
  meshes: new Map(),
  looked: null,
  hidden: new Set(),
  aimed: null,
  ...change,
});

it('marks the runner that clashes and draws the distance with its number', () => {
  const view = bayView(inputs());
  expect(view.runners.map((r) => [r.id, r.state])).toEqual([
    ['r1', 'outside'],
    ['r2', 'plain'],
  ]);
  expect(view.leaders).toMatchObject([{ id: clash.key, outside: true }]);
  expect(view.labels).toMatchObject([{ id: `v:${clash.key}`, kind: 'clash', text: '4.00 mm, needs 25.00 mm' }]);
});

it('takes a hidden component and its clash away', () => {
  const view = bayView(inputs({ hidden: new Set(['c1']) }));
  expect(view.components).toMatchObject([{ id: 'c1', visible: false }]);
  expect(view.labels).toEqual([]);
});

it('keeps a hidden clash in sight while it is the one looked at', () => {
  const view = bayView(inputs({ hidden: new Set(['c1']), focus: { kind: 'verdict', id: clash.key } }));
  expect(view.labels).toMatchObject([{ selected: true }]);
});

it('gives handles only to who may edit, and only on the chosen runner', () => {
  expect(bayView(inputs({ chosenRunner: 'r2' })).handles.map((h) => `${h.runner}.${h.node}`)).toEqual([
    'r2.n1',
    'r2.n2',
    'r2.n3',
  ]);
  expect(bayView(inputs({ chosenRunner: 'r2', canEdit: false })).handles).toEqual([]);
  expect(bayView(inputs()).handles).toEqual([]);
});

it('lets a pin follow its runner', () => {
  const spec = makeSpec();
  const [runner] = spec.runners;
  const line = runner && runnerLine(runner);
  if (!line) throw new Error('the base spec has no first runner');
  const place = placeOnTube(line, [0.02225, 0.05, 0]);
  if (!place) throw new Error('no place');
  const thread: Thread = {
    id: 't1',
    by: 'a',
    n: 1,
    anchor: { kind: 'runner', runner: 'r1', ...place, at: [0.02225, 0.05, 0] },
    comments: [],
    state: 'open',
    resolvedBy: null,
  };
  expect(pinPlace(thread, spec)[0]).toBeCloseTo(0.02225, 6);
  const moved = makeSpec({ 'runners.r1.nodes.n1.x': 0.3, 'runners.r1.nodes.n2.x': 0.3, 'runners.r1.nodes.n3.x': 0.3 });
  expect(pinPlace(thread, moved)[0]).toBeCloseTo(0.32225, 6);
});

it('shows no runner whose table describes none, and the rest all the same', () => {
  const view = bayView(inputs({ spec: makeSpec({ 'runners.r1.nodes.n2.radius': 0.9 }) }));
  expect(view.runners.map((r) => r.id)).toEqual(['r2']);
});

it('shows the pieces that have a surface, printed unless they are bought', () => {
  const mesh = { positions: new Float32Array(9), indices: new Uint32Array([0, 1, 2]) };
  const spec = makeSpec({ 'pieces.p1': 1, 'pieces.p2': 2, 'pieces.p3': 3, 'pieces.p2.use': 'bought' });
  const meshes = new Map([
    ['p1', mesh],
    ['p2', mesh],
  ]);
  const view = bayView(inputs({ spec, meshes, hidden: new Set(['p2']) }));
  expect(view.pieces).toEqual([
    { id: 'p1', mesh, use: 'printed', visible: true, selected: false },
    { id: 'p2', mesh, use: 'bought', visible: false, selected: false },
  ]);
});

it('shows a part that is looked at, and where, once', () => {
  const mesh = { positions: new Float32Array(9), indices: new Uint32Array([0, 1, 2]) };
  const looked = { mesh, at: [1, 2, 3] as const };
  const view = bayView(inputs({ looked }));
  expect(view.pieces.map((piece) => piece.mesh)).toEqual([mesh]);
  expect(view.labels.find(({ at }) => at === looked.at)?.text).toBe('wrong here');
  const made = inputs({ spec: makeSpec({ 'pieces.p1': 1 }), meshes: new Map([['p1', mesh]]), looked });
  expect(bayView(made).pieces.map(({ id }) => id)).toEqual(['p1']);
});

const scanned = new Map([['c1', noTiles]]);
/** Three datum points that the car has a quarter turn about z and 1 m along x further on. */
const turned = Object.fromEntries(
  [
    [0, 0, 0],
    [0.5, 0, 0],
    [0, 0, 0.5],
    [0, 0.5, 0],
  ].flatMap(([x = 0, y = 0, z = 0], i) => [
    [`datums.d${i + 1}.scanX`, x],
    [`datums.d${i + 1}.scanY`, y],
    [`datums.d${i + 1}.scanZ`, z],
    [`datums.d${i + 1}.carX`, 1 - y],
    [`datums.d${i + 1}.carY`, x],
    [`datums.d${i + 1}.carZ`, z],
  ]),
);

it('places a scan by its datum points, and leaves one as uploaded', () => {
  const placed = bayView(
    inputs({ tiles: scanned, spec: makeSpec({ ...turned, 'components.c1.placed': 'by-datums' }) }),
  );
  const placing = placed.components[0]?.placing;
  expect(placing?.translation.map((x) => Number(x.toFixed(9)))).toEqual([1, 0, 0]);
  expect(placing?.rotation[0].map((x) => Math.round(x * 1e9) / 1e9 + 0)).toEqual([0, -1, 0]);
  expect(bayView(inputs({ tiles: scanned, spec: makeSpec(turned) })).components[0]?.placing).toBeUndefined();
});

it('shows a scan that its datum points do not place yet as uploaded, to be picked on', () => {
  const spec = makeSpec({ ...turned, 'components.c1.placed': 'by-datums', 'datums.d2.scanX': undefined });
  expect(bayView(inputs({ tiles: scanned, spec })).components).toMatchObject([{ id: 'c1' }]);
  expect(bayView(inputs({ tiles: scanned, spec })).components[0]?.placing).toBeUndefined();
});

it('shows where the scan has its datum points while one is picked, on the car', () => {
  const spec = makeSpec({ ...turned, 'components.c1.placed': 'by-datums' });
  const marks = bayView(inputs({ spec, aimed: { kind: 'datum', row: 'd2' } })).labels.filter(({ id }) =>
    id.startsWith('d:'),
  );
  expect(marks.map(({ id, selected }) => [id, selected])).toEqual([
    ['d:d1', false],
    ['d:d2', true],
    ['d:d3', false],
    ['d:d4', false],
  ]);
  expect(marks[1]?.at.map((x) => Number(x.toFixed(9)) + 0)).toEqual([1, 0.5, 0]);
  expect(bayView(inputs({ spec })).labels.filter(({ id }) => id.startsWith('d:'))).toEqual([]);
});

it('shows a component as the part of its scan that it is, but all of the scan while its box is picked', () => {
  const spec = makeSpec({ 'components.c1.fromX': -0.2, 'components.c1.toZ': 0.4 });
  expect(bayView(inputs({ spec, tiles: scanned })).components[0]?.box).toEqual({
    least: [-0.2, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY],
    greatest: [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, 0.4],
  });
  const aimed = { kind: 'box', row: 'c1' } as const;
  expect(bayView(inputs({ spec, tiles: scanned, aimed })).components[0]?.box).toBeUndefined();
  expect(bayView(inputs({ tiles: scanned })).components[0]?.box).toBeUndefined();
});
