import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { MeasureJob, MeasureResult } from '../../shared/geometry/measurement.ts';
import { jobKey, meshesOf, scansOf } from '../../shared/geometry/measurement.ts';
import { scanUnits } from '../../shared/protocol/http.ts';
import type { Measurements } from '../../shared/quantities/context.ts';
import { createEngine } from '../../shared/rules/engine.ts';
import { limitProblems } from '../../shared/rules/override.ts';
import { findRule, RULE_SET, rules } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import { verdictWords, whyWords } from '../../shared/rules/words.ts';
import { parseSpecText } from '../../shared/spec/file.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import { sourceLine } from '../../shared/trade/source.ts';
import { type Known, known, unknown } from '../../shared/units/known.ts';
import { createMeasurePool, type MeasurePool } from '../measure/pool.ts';
import { metresPer } from '../metres.ts';
import type { Console } from './console.ts';

interface Options {
  readonly file: string;
  readonly scans: ReadonlyMap<string, string>;
  readonly unit: (typeof scanUnits)[number];
  readonly json: boolean;
}

function readOptions(args: readonly string[]): Options | string {
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(args);
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  const [file, ...more] = parsed.positionals;
  if (file === undefined || more.length > 0) return `expected one spec file, got ${parsed.positionals.length}`;
  const unit = scanUnits.find((u) => u === (parsed.values.unit ?? 'mm'));
  if (!unit) return `--unit: expected one of ${scanUnits.join(', ')}, got "${parsed.values.unit}"`;
  const scans = new Map<string, string>();
  for (const given of parsed.values.scan ?? []) {
    const at = given.indexOf('=');
    const name = at < 0 ? '' : given.slice(0, at);
    if (scans.has(name)) return `--scan: expected one file for ${name || 'all components'}, got two`;
    scans.set(name, given.slice(at + 1));
  }
  return { file, scans, unit, json: parsed.values.json ?? false };
}

function parse(args: readonly string[]) {
  return parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { scan: { type: 'string', multiple: true }, unit: { type: 'string' }, json: { type: 'boolean' } },
  });
}

/** Component ids a scan argument speaks of: by id, by name, or all that have none of their own. */
function componentsFor(name: string, spec: Spec): readonly string[] {
  if (name === '') return spec.components.map((c) => c.id);
  const found = spec.components.find((c) => c.id === name || c.name?.toLowerCase() === name.toLowerCase());
  return found ? [found.id] : [];
}

/** Reads the scans given, each into a grid, and points the components at them. Text is what went wrong. */
async function readScans(
  options: Options,
  spec: Spec,
  parts: { pool: MeasurePool; folder: string; entries: Map<string, unknown> },
): Promise<ReadonlyMap<string, string> | string> {
  const grids = new Map<string, string>();
  for (const [name, file] of options.scans) {
    const ids = componentsFor(name, spec);
    if (ids.length === 0)
      return `--scan ${name}: the spec has no bay component of that id or name (it has ${spec.components.map((c) => c.id).join(', ') || 'none'})`;
    const out = join(parts.folder, `${grids.size}.grid`);
    const made = await parts.pool.run({ kind: 'readScan', file, unitFactor: metresPer(options.unit), out });
    if (!made.ok) return `--scan ${file}: ${made.problem.message}`;
    for (const id of ids) {
      parts.entries.set(`components.${id}.scan`, `file${grids.size}`);
      parts.entries.set(`components.${id}.scanUnit`, options.unit);
    }
    grids.set(`file${grids.size}-${options.unit}`, out);
  }
  return grids;
}

/** Measures on demand: evaluate, measure what was asked for, evaluate again until nothing is pending. */
class OfflineMeasurements implements Measurements {
  private readonly results = new Map<string, Known<MeasureResult>>();
  private readonly asked = new Map<string, MeasureJob>();
  private readonly grids: ReadonlyMap<string, string>;

  constructor(grids: ReadonlyMap<string, string>) {
    this.grids = grids;
  }

  measure<J extends MeasureJob>(job: J): Known<MeasureResult<J['kind']>> {
    const key = jobKey(job);
    const there = this.results.get(key);
    // The kind is part of what a key is made from, so the result under it is of the kind of its job.
    if (there) return there as Known<MeasureResult<J['kind']>>;
    if (!scansOf(job).every((scan) => this.grids.has(scan))) {
      return unknown({
        reason: 'inconsistent',
        detail: 'expected the scan file of this component: give it with --scan',
        paths: [],
      });
    }
    if (meshesOf(job).length > 0) {
      return unknown({
        reason: 'inconsistent',
        detail: 'expected the part file of this piece: it is measured where the job is kept, not on the command line',
        paths: [],
      });
    }
    this.asked.set(key, job);
    return unknown({ reason: 'pending', job: key });
  }

  async make(pool: MeasurePool): Promise<boolean> {
    const jobs = [...this.asked];
    this.asked.clear();
    await Promise.all(
      jobs.map(async ([key, job]) => {
        const scanFiles = Object.fromEntries(scansOf(job).map((scan) => [scan, this.grids.get(scan) ?? '']));
        const made = await pool.run({ kind: 'measure', job, scanFiles, meshFiles: {} });
        this.results.set(
          key,
          made.ok ? known(made.result) : unknown({ reason: 'inconsistent', detail: made.problem.message, paths: [] }),
        );
      }),
    );
    return jobs.length > 0;
  }
}

async function evaluate(spec: Spec, measured: OfflineMeasurements, pool: MeasurePool): Promise<readonly Verdict[]> {
  const engine = createEngine({ rules, measured });
  engine.evaluate(spec);
  while (await measured.make(pool)) engine.remeasured();
  return [...engine.verdicts().values()];
}

function printVerdicts(verdicts: readonly Verdict[], out: Console): void {
  for (const verdict of verdicts) {
    const rule = findRule(verdict.rule);
    if (!rule) continue;
    const words = verdictWords(verdict, rule);
    const detail = [words.measured && `${words.measured} (limit ${words.limit})`, words.why].filter(Boolean).join(' ');
    out.line(`${words.label.padEnd(28)} ${verdict.rule}: ${verdict.subject.name}  ${detail}`);
    for (const note of [words.jobLimit, words.ownMaterial]) if (note) out.line(`${''.padEnd(28)} ${note}`);
    if (verdict.status === 'fail')
      out.line(`${''.padEnd(28)} change first: ${rule.remedy}  source: ${sourceLine(rule.source)}`);
  }
  const count = (status: Verdict['status']): number => verdicts.filter((v) => v.status === status).length;
  out.line(
    `${count('pass')} pass, ${count('caution')} caution, ${count('fail')} fail, ${count('unknown')} unknown. A verdict is a check, not an approval.`,
  );
}

/** Checks a spec file: prints verdicts; 0 all pass, 2 something fails, is unknown or is a limit that no rule can use, 1 bad input. */
export async function check(args: readonly string[], out: Console): Promise<number> {
  const options = readOptions(args);
  if (typeof options === 'string') {
    out.error(`check: ${options}`);
    return 1;
  }
  const text = await readFile(options.file, 'utf8').catch((error: unknown) => {
    out.error(`check: ${options.file} cannot be read: ${error instanceof Error ? error.message : String(error)}`);
    return null;
  });
  if (text === null) return 1;
  const read = parseSpecText(text);
  if (!read.ok) {
    for (const p of read.problems) out.error(`check: ${options.file}: ${p.path || 'file'}: ${p.message}`);
    return 1;
  }
  return checkEntries(new Map(read.entries), options, out);
}

async function checkEntries(entries: Map<string, unknown>, options: Options, out: Console): Promise<number> {
  const pool = createMeasurePool();
  const folder = await mkdtemp(join(tmpdir(), 'slipjoint-check-'));
  try {
    const grids = await readScans(options, readSpec(entries), { pool, folder, entries });
    if (typeof grids === 'string') {
      out.error(`check: ${grids}`);
      return 1;
    }
    const spec = readSpec(entries);
    const verdicts = await evaluate(spec, new OfflineMeasurements(grids), pool);
    const unused = limitProblems(spec, findRule).map(({ row, why }) => `limits.${row.id}: not used: ${whyWords(why)}`);
    if (options.json) out.line(JSON.stringify({ ruleSet: RULE_SET, verdicts, unusedLimits: unused }, null, 2));
    else printVerdicts(verdicts, out);
    for (const line of unused) out.error(`check: ${options.file}: ${line}`);
    return unused.length === 0 && verdicts.every((v) => v.status !== 'fail' && v.status !== 'unknown') ? 0 : 2;
  } finally {
    await pool.destroy();
    await rm(folder, { recursive: true, force: true });
  }
}
