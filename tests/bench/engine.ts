import { performance } from 'node:perf_hooks';
import * as Y from 'yjs';
import { demoComponents, demoSpec } from '../../prisma/demo/header.ts';
import type { MeasureJob, MeasureResult } from '../../shared/geometry/measurement.ts';
import { jobKey } from '../../shared/geometry/measurement.ts';
import type { Measurements } from '../../shared/quantities/context.ts';
import { createEngine } from '../../shared/rules/engine.ts';
import { rules } from '../../shared/rules/registry.ts';
import { createSpecReader, readSpec, SPEC_ROOT } from '../../shared/spec/reader.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import { type Known, known } from '../../shared/units/known.ts';
import { baseEntries } from '../support/baseSpec.ts';
import { resultOf } from '../support/measurements.ts';

/** Times a full evaluation of a five-runner, seven-component spec and of the demo, and one-field edits. Run: npm run bench -- engine */

const RUNNERS = 5;
const COMPONENTS = 7;
const RUNS = 400;

function entries(): Map<string, unknown> {
  const out = baseEntries({ 'engine.firingOrder': '1-2-4-5-3', 'engine.cylinders': 5, 'engine.displacement': 0.0025 });
  const base = [...baseEntries()];
  const copy = (from: string, to: string) => {
    for (const [path, value] of base)
      if (path === from || path.startsWith(`${from}.`)) out.set(to + path.slice(from.length), value);
  };
  for (let r = 2; r <= RUNNERS; r++) {
    copy('runners.r1', `runners.r${r}`);
    out.set(`runners.r${r}`, r);
    out.set(`runners.r${r}.name`, `Runner ${r}`);
    out.set(`runners.r${r}.cylinder`, r);
    for (const n of ['n1', 'n2', 'n3']) out.set(`runners.r${r}.nodes.${n}.x`, 0.09 * (r - 1));
  }
  for (let c = 2; c <= COMPONENTS; c++) {
    copy('components.c1', `components.c${c}`);
    out.set(`components.c${c}`, c);
    out.set(`components.c${c}.scan`, c.toString(16).repeat(64).slice(0, 64));
  }
  return out;
}

/** Results by content, as the server's store has them once everything is measured; a name is made once for a job object, as there. */
function store(): Measurements {
  const results = new Map<string, Known<MeasureResult>>();
  const names = new WeakMap<MeasureJob, string>();
  return {
    measure<J extends MeasureJob>(job: J): Known<MeasureResult<J['kind']>> {
      const key = names.get(job) ?? jobKey(job);
      names.set(job, key);
      const made = results.get(key) ?? known(resultOf(job.kind, { gap: 0.12, s: 0.2 }));
      results.set(key, made);
      return made as Known<MeasureResult<J['kind']>>;
    },
  };
}

function report(name: string, times: number[]): void {
  times.sort((a, b) => a - b);
  const at = (share: number) => (times[Math.floor(share * (times.length - 1))] ?? Number.NaN).toFixed(3);
  console.log(`${name}: median ${at(0.5)} ms, p95 ${at(0.95)} ms, ${times.length} runs`);
}

function timed(make: () => void): number {
  const start = performance.now();
  make();
  return performance.now() - start;
}

function edits(name: string, values: readonly [string, (i: number) => unknown]): void {
  const doc = new Y.Doc();
  const map = doc.getMap<unknown>(SPEC_ROOT);
  doc.transact(() => {
    for (const [path, value] of entries()) map.set(path, value);
  });
  const reader = createSpecReader(doc);
  const engine = createEngine({ rules, measured: store() });
  engine.evaluate(reader.current());
  const times: number[] = [];
  const before = engine.evaluations();
  for (let i = 0; i < RUNS; i++) {
    map.set(values[0], values[1](i));
    const spec = reader.current();
    times.push(timed(() => engine.evaluate(spec)));
  }
  report(`${name} (${((engine.evaluations() - before) / RUNS).toFixed(0)} evaluations)`, times);
}

function fromScratch(name: string, spec: Spec): void {
  const measured = store();
  const times: number[] = [];
  let verdicts = 0;
  for (let i = 0; i < RUNS; i++) {
    const engine = createEngine({ rules, measured });
    times.push(timed(() => engine.evaluate(spec)));
    verdicts = engine.verdicts().size;
  }
  report(`${name} from scratch, ${verdicts} verdicts`, times);
}

const scans = new Map(demoComponents.map((component, i) => [component, i.toString(16).repeat(64)]));
fromScratch('bench spec', readSpec(entries()));
fromScratch('demo', readSpec(demoSpec(scans)));
edits('one torque', ['stud.torque', (i) => 18 + (i % 5)]);
edits('one lambda', ['engine.lambda', (i) => 0.8 + (i % 7) / 100]);
edits('one node moved', ['runners.r3.nodes.n2.y', (i) => 0.15 + (i % 9) / 1000]);
edits('one joint current', ['joints.j1.current', (i) => 50 + (i % 9)]);
edits('one name', ['runners.r3.name', (i) => `Runner ${i % 9}`]);
