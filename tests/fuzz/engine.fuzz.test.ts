import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { jobKey, type MeasureJob, type MeasureResult } from '../../shared/geometry/measurement.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import type { Rule } from '../../shared/rules/define.ts';
import { createEngine, type Delta } from '../../shared/rules/engine.ts';
import { rules } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import { replaceAll } from '../../shared/spec/commands.ts';
import type { Field } from '../../shared/spec/field.ts';
import { collections, groups, tables } from '../../shared/spec/fields.ts';
import { createSpecReader, readSpec, SPEC_ROOT } from '../../shared/spec/reader.ts';
import { type Known, known, unknown } from '../../shared/units/known.ts';
import { baseEntries } from '../support/baseSpec.ts';
import { resultOf } from '../support/measurements.ts';

const EDITS = Number(process.env.FUZZ_EDITS ?? 1000);
const SEED = Number(process.env.FUZZ_SEED ?? 20261125);

const garbage: readonly unknown[] = [
  null,
  '',
  'x',
  -1,
  0,
  Number.NaN,
  Number.POSITIVE_INFINITY,
  1e300,
  true,
  [1, 2],
  { si: 'no' },
  { si: 0.03, as: '30 mm' },
];

/** Measurements that are pending until told to arrive; a result keeps its identity, as the real store's do. */
class Bench {
  readonly asked = new Map<string, MeasureJob>();
  readonly results = new Map<string, Known<MeasureResult>>();

  measure = <J extends MeasureJob>(job: J): Known<MeasureResult<J['kind']>> => {
    const key = jobKey(job);
    this.asked.set(key, job);
    const result = this.results.get(key) ?? unknown({ reason: 'pending', job: key });
    return result as Known<MeasureResult<J['kind']>>;
  };

  arrive(key: string, random: () => number): void {
    const job = this.asked.get(key);
    if (!job) throw new Error(`nobody asked for ${key}`);
    const lengths = { gap: 0.2 * random() - 0.02, s: 0.2, points: 10, median: 0.003 * random() };
    const areas = { seen: random(), gap: job.kind === 'clearance' ? lengths.gap : 0.1 * random() };
    const point = [0, 0, 0] as const;
    this.results.set(key, known(resultOf(job.kind, { ...lengths, ...areas, point, greatest: [random(), 0.4, 0.2] })));
  }
}

interface World {
  readonly doc: Y.Doc;
  readonly map: Y.Map<unknown>;
  readonly random: () => number;
}

const pick = <T>(list: readonly T[], random: () => number): T | undefined => list[Math.floor(random() * list.length)];

function fieldRows(branch: string): Readonly<Record<string, Field>> {
  return Object.entries({ ...groups, ...collections }).find(([key]) => key === branch)?.[1] ?? {};
}

function tableRows(branch: string, table: string): Readonly<Record<string, Field>> {
  const inside: Readonly<Record<string, Readonly<Record<string, Field>>>> =
    Object.entries(tables).find(([key]) => key === branch)?.[1] ?? {};
  return inside[table] ?? {};
}

/** Any path a field may stand at now, with its row. */
function somePath({ map, random }: World): { path: string; field: Field } | undefined {
  const marks = [...map.keys()].filter((key) =>
    /^(runners|holes|components|joints|purges|limits|materials)\.[^.]+(\.(nodes|points|ruptures)\.[^.]+)?$/.test(key),
  );
  const parents = [...Object.keys(groups), ...marks];
  const parent = pick(parents, random);
  if (parent === undefined) return undefined;
  const [branch = '', , table] = parent.split('.');
  const rows: Readonly<Record<string, Field>> = table === undefined ? fieldRows(branch) : tableRows(branch, table);
  const key = pick(Object.keys(rows), random);
  const field = key === undefined ? undefined : rows[key];
  return field && { path: `${parent}.${key}`, field };
}

function plausible(field: Field, before: unknown, random: () => number): unknown {
  if (field.kind === 'quantity') {
    if (typeof before === 'number' && random() < 0.6) return before * (0.8 + 0.4 * random());
    return field.min + (field.max - field.min) * random() ** 3;
  }
  if (field.kind === 'integer') return field.min + Math.floor(random() * 4);
  if (field.kind === 'choice') return pick(field.options, random);
  if (field.kind === 'material') return pick([...field.options, 'lot7', 'lot7', 'gone'], random);
  if (field.kind === 'number') return pick([0.1, 0.4, 0.5, 1, 2, 5e5], random);
  if (field.kind === 'sequence') return pick(['1-2', '1-3-4-2', '2-1', '1-2-1', 'nonsense'], random);
  return pick(['S1', 'S2', 'Runner 1', 'a'.repeat(64)], random);
}

function edit(world: World): void {
  const { map, random } = world;
  const dice = random();
  if (dice < 0.1) return addRow(world);
  if (dice < 0.18) return removeRow(world);
  const some = somePath(world);
  if (!some) return;
  if (dice < 0.28) map.delete(some.path);
  else if (dice < 0.38) map.set(some.path, pick(garbage, random));
  else map.set(some.path, plausible(some.field, map.get(some.path), random));
}

function addRow({ map, random }: World): void {
  const base = [...wholeEntries()];
  const from =
    pick(
      [
        'runners.r1',
        'runners.r2',
        'holes.s2',
        'components.c1',
        'joints.j1',
        'purges.p1',
        'runners.r1.nodes.n2',
        'limits.runner-mach',
      ],
      random,
    ) ?? '';
  const to = from.startsWith('limits.')
    ? `limits.${pick(limited, random)}`
    : from.includes('.nodes.')
      ? `runners.r${1 + Math.floor(random() * 5)}.nodes.n${1 + Math.floor(random() * 5)}`
      : `${from.split('.')[0]}.${from.split('.')[1]?.[0]}${1 + Math.floor(random() * 5)}`;
  for (const [path, value] of base)
    if (path === from || path.startsWith(`${from}.`)) map.set(to + path.slice(from.length), value);
}

function removeRow({ map, random }: World): void {
  const marks = [...map.keys()].filter((key) =>
    /^(runners|holes|components|joints|purges|limits|materials)\.[^.]+(\.(nodes|points|ruptures)\.[^.]+)?$/.test(key),
  );
  const gone = pick(marks, random);
  if (gone === undefined) return;
  // Half of them leave their fields behind, as two people's concurrent edits may.
  const keepFields = random() < 0.5;
  for (const key of [...map.keys()]) if (key === gone || (!keepFields && key.startsWith(`${gone}.`))) map.delete(key);
}

function apply(mirror: Map<string, Verdict>, delta: Delta): void {
  for (const key of delta.cleared) mirror.delete(key);
  for (const verdict of delta.changed) mirror.set(verdict.key, verdict);
}

/** Rules whose limit the walk sets: two that allow it, one that does not, and none at all. */
const limited = ['runner-mach', 'stud-preload', 'hoop-stress', 'no-such-rule'] as const;

/** The base spec with a limit of the job and an own material, which nothing is made of yet. */
function wholeEntries(): Map<string, unknown> {
  const out = new Map(baseEntries());
  const add = (prefix: string, row: Readonly<Record<string, unknown>>): void => {
    out.set(prefix, 1);
    for (const [key, value] of Object.entries(row)) out.set(`${prefix}.${key}`, value);
  };
  add('limits.runner-mach', { most: 0.5, reason: 'tried' });
  add('materials.lot7', { name: 'Lot 7', source: 'report', trust: 'own', reason: 'printed here', density: 8300 });
  out.set('materials.lot7.serviceLimit', 1250);
  for (const [i, temperature] of [300, 700, 980, 1200].entries())
    add(`materials.lot7.points.p${i}`, {
      ...{ temperature, expansion: (12 + i) * 1e-6, modulus: (200 - 10 * i) * 1e9 },
      ...{ yield: (400 - 60 * i) * 1e6, conductivity: 10 + 4 * i },
    });
  add('materials.lot7.ruptures.a', { temperature: 900, life: 3.6e6, stress: 4e8 });
  add('materials.lot7.ruptures.b', { temperature: 1200, life: 3.6e6, stress: 3e7 });
  return out;
}

const sorted = (verdicts: ReadonlyMap<string, Verdict>) => [...verdicts].sort(([a], [b]) => (a < b ? -1 : 1));

function newWorld(seed: number): World {
  const doc = new Y.Doc();
  replaceAll(doc, wholeEntries(), { kind: 'load' });
  return { doc, map: doc.getMap<unknown>(SPEC_ROOT), random: seededRandom(seed) };
}

describe(`engine, seed ${SEED}`, () => {
  it(`incremental verdicts equal those from scratch over ${EDITS} random edits`, { timeout: 600_000 }, () => {
    const world = newWorld(SEED);
    const reader = createSpecReader(world.doc);
    const bench = new Bench();
    const engine = createEngine({ rules, measured: bench });
    const mirror = new Map<string, Verdict>();
    apply(mirror, engine.evaluate(reader.current()));
    const seen = new Set<string>();
    for (let i = 0; i < EDITS; i++) {
      const arriving = world.random() < 0.15 ? pick([...bench.asked.keys()], world.random) : undefined;
      if (arriving !== undefined) {
        bench.arrive(arriving, world.random);
        apply(mirror, engine.remeasured());
      } else {
        const edits = 1 + Math.floor(world.random() * 3);
        world.doc.transact(() => {
          for (let k = 0; k < edits; k++) edit(world);
        });
        apply(mirror, engine.evaluate(reader.current()));
      }
      if (i % 100 === 99) {
        // Back to a whole spec now and then: random damage alone would soon leave nothing but missing values.
        replaceAll(world.doc, wholeEntries(), { kind: 'import' });
        apply(mirror, engine.evaluate(reader.current()));
      }
      const scratch = createEngine({ rules, measured: bench });
      scratch.evaluate(readSpec(new Map(world.map.entries())));
      const expected = sorted(scratch.verdicts());
      expect(sorted(engine.verdicts()), `edit ${i}, seed ${SEED}`).toEqual(expected);
      expect(sorted(mirror), `deltas, edit ${i}, seed ${SEED}`).toEqual(expected);
      for (const [, verdict] of expected) {
        const reason = verdict.status === 'unknown' ? `unknown ${verdict.why.reason}` : verdict.status;
        expect(reason, `edit ${i}, seed ${SEED}: ${JSON.stringify(verdict)}`).not.toBe('unknown fault');
        seen.add(reason);
        if ('override' in verdict) seen.add('a limit of the job');
        if ('grounds' in verdict) seen.add('an own material');
      }
    }
    reader.destroy();
    // The walk must have been through every kind of verdict, else it proves little.
    const kinds = [
      'a limit of the job',
      'an own material',
      'caution',
      'fail',
      'notApplicable',
      'pass',
      'unknown inconsistent',
      'unknown missing',
      'unknown outOfValidity',
      'unknown pending',
    ];
    if (EDITS >= 1000) expect([...seen].sort()).toEqual(kinds);
  });

  it('a one-field edit runs only rules that declare its branch or field, and evaluates only what read it', () => {
    const world = newWorld(SEED);
    const reader = createSpecReader(world.doc);
    const ran: string[] = [];
    const watched = rules.map(
      (rule): Rule => ({
        ...rule,
        run: (...given) => {
          ran.push(rule.id);
          return rule.run(...given);
        },
      }),
    );
    const engine = createEngine({ rules: watched, measured: new Bench() });
    engine.evaluate(reader.current());
    let judged = 0;
    for (let i = 0; i < 300; i++) {
      const some = somePath(world);
      if (!some) throw new Error('no field to edit');
      const before = engine.evaluations();
      const spec = reader.current();
      ran.length = 0;
      world.map.set(some.path, plausible(some.field, world.map.get(some.path), world.random));
      const { cleared } = engine.evaluate(reader.current());
      const branch = some.path.split('.')[0] ?? '';
      const [, id = ''] = some.path.split('.');
      // Every rule may have a limit of the job, but reads only its own; some name the fields they read of a branch.
      const reads = (rule: Rule) => {
        const fields = Object.entries(rule.fields ?? {}).find(([one]) => one === branch)?.[1];
        const named = branch === 'limits' ? rule.id === id : (fields?.includes(id) ?? true);
        return named && rule.branches.some((one) => one === branch);
      };
      const declaring = rules.filter(reads).map((rule) => rule.id);
      // Where a subject went, every rule is asked once more for what it still keeps; that judges nothing anew.
      const asked = cleared.length > 0 ? ran.slice(0, declaring.length) : ran;
      for (const one of asked) expect(declaring, `${some.path} ran ${one}`).toContain(one);
      if (reader.current() !== spec && asked.length > 0) expect(asked).toEqual(declaring);
      judged += engine.evaluations() - before;
    }
    expect(judged).toBeGreaterThan(100);
    reader.destroy();
  });

  it('a field no rule reads evaluates nothing', () => {
    const world = newWorld(SEED);
    const reader = createSpecReader(world.doc);
    const engine = createEngine({ rules, measured: new Bench() });
    engine.evaluate(reader.current());
    for (const [path, value] of [
      ['project.title', 'Another title'],
      ['project.car', 'Another car'],
      ['project.event', '2027-05-01'],
    ] as const) {
      const before = engine.evaluations();
      world.map.set(path, value);
      expect(engine.evaluate(reader.current())).toEqual({ changed: [], cleared: [] });
      expect(engine.evaluations()).toBe(before);
    }
    reader.destroy();
  });
});
