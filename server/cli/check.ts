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
  readonly parts: ReadonlyMap<string, string>;
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
  const scans = filesGiven(parsed.values.scan, '--scan', 'components');
  const parts = filesGiven(parsed.values.part, '--part', 'pieces');
  if (typeof scans === 'string') return scans;
  if (typeof parts === 'string') return parts;
  return { file, scans, parts, unit, json: parsed.values.json ?? false };
}

/** Files by the name they were given for, '' for all; text is what is wrong with them. */
function filesGiven(given: readonly string[] = [], option: string, all: string): ReadonlyMap<string, string> | string {
  const files = new Map<string, string>();
  for (const one of given) {
    const at = one.indexOf('=');
    const name = at < 0 ? '' : one.slice(0, at);
    if (files.has(name)) return `${option}: expected one file for ${name || `all ${all}`}, got two`;
    files.set(name, one.slice(at + 1));
  }
  return files;
}

function parse(args: readonly string[]) {
  return parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      scan: { type: 'string', multiple: true },
      part: { type: 'string', multiple: true },
      unit: { type: 'string' },
      json: { type: 'boolean' },
    },
  });
}

/** Ids of the rows a file is for: by id, by name, or all for a file without a name of its own. */
function rowsFor(name: string, rows: readonly { readonly id: string; readonly name: string | undefined }[]) {
  if (name === '') return rows.map(({ id }) => id);
  const found = rows.find((row) => row.id === name || row.name?.toLowerCase() === name.toLowerCase());
  return found ? [found.id] : [];
}

interface Given {
  readonly kind: 'readScan' | 'readMesh';
  readonly option: '--scan' | '--part';
  readonly branch: 'components' | 'pieces';
  readonly noun: string;
  /** Fields of a row that name the file and its unit. */
  readonly fields: readonly [string, string];
  readonly files: ReadonlyMap<string, string>;
}

interface Desk {
  readonly pool: MeasurePool;
  readonly folder: string;
  readonly entries: Map<string, unknown>;
  readonly unit: Options['unit'];
  readonly out: Console;
}

/** Reads the files given, each into a file to measure on, and points their rows at them. Text is what went wrong. */
async function readGiven(given: Given, spec: Spec, desk: Desk): Promise<ReadonlyMap<string, string> | string> {
  const { option, branch, fields, files } = given;
  const read = new Map<string, string>();
  for (const [name, file] of files) {
    const rows = spec[branch];
    const ids = rowsFor(name, rows);
    if (ids.length === 0)
      return `${option} ${name}: the spec has no ${given.noun} of that id or name (it has ${rows.map((row) => row.id).join(', ') || 'none'})`;
    const called = `${branch}${read.size}`;
    const out = join(desk.folder, called);
    const made = await desk.pool.run({ kind: given.kind, file, unitFactor: metresPer(desk.unit), out });
    if (!made.ok) return `${option} ${file}: ${made.problem.message}`;
    if ('unplaced' in made.result && made.result.unplaced > 0)
      desk.out.error(`check: ${option} ${file}: ${made.result.unplaced} points without a place were left out`);
    for (const id of ids) {
      desk.entries.set(`${branch}.${id}.${fields[0]}`, called);
      desk.entries.set(`${branch}.${id}.${fields[1]}`, desk.unit);
    }
    read.set(`${called}-${desk.unit}`, out);
  }
  return read;
}

interface ReadFiles {
  readonly scans: ReadonlyMap<string, string>;
  readonly parts: ReadonlyMap<string, string>;
}

const scansGiven = {
  kind: 'readScan',
  option: '--scan',
  branch: 'components',
  noun: 'bay component',
  fields: ['scan', 'scanUnit'],
} as const;
const partsGiven = {
  kind: 'readMesh',
  option: '--part',
  branch: 'pieces',
  noun: 'piece',
  fields: ['mesh', 'meshUnit'],
} as const;

/** Reads all files given. Text is what went wrong. */
async function readFiles({ scans, parts }: Options, spec: Spec, desk: Desk): Promise<ReadFiles | string> {
  const grids = await readGiven({ ...scansGiven, files: scans }, spec, desk);
  if (typeof grids === 'string') return grids;
  const meshes = await readGiven({ ...partsGiven, files: parts }, spec, desk);
  return typeof meshes === 'string' ? meshes : { scans: grids, parts: meshes };
}

/** Measures on demand: evaluate, measure what was asked for, evaluate again until nothing is pending. */
class OfflineMeasurements implements Measurements {
  private readonly results = new Map<string, Known<MeasureResult>>();
  private readonly asked = new Map<string, MeasureJob>();
  private readonly files: ReadFiles;

  constructor(files: ReadFiles) {
    this.files = files;
  }

  measure<J extends MeasureJob>(job: J): Known<MeasureResult<J['kind']>> {
    const key = jobKey(job);
    const there = this.results.get(key);
    // The kind is part of what a key is made from, so the result under it is of the kind of its job.
    if (there) return there as Known<MeasureResult<J['kind']>>;
    if (!scansOf(job).every((scan) => this.files.scans.has(scan)))
      return notGiven('expected the scan file of this component: give it with --scan');
    if (!meshesOf(job).every((mesh) => this.files.parts.has(mesh)))
      return notGiven('expected the part file of this piece: give it with --part');
    this.asked.set(key, job);
    return unknown({ reason: 'pending', job: key });
  }

  async make(pool: MeasurePool): Promise<boolean> {
    const jobs = [...this.asked];
    this.asked.clear();
    await Promise.all(
      jobs.map(async ([key, job]) => {
        const { scans, parts } = this.files;
        const scanFiles = Object.fromEntries(scansOf(job).map((scan) => [scan, scans.get(scan) ?? '']));
        const meshFiles = Object.fromEntries(meshesOf(job).map((mesh) => [mesh, parts.get(mesh) ?? '']));
        const made = await pool.run({ kind: 'measure', job, scanFiles, meshFiles });
        this.results.set(
          key,
          made.ok ? known(made.result) : unknown({ reason: 'inconsistent', detail: made.problem.message, paths: [] }),
        );
      }),
    );
    return jobs.length > 0;
  }
}

const notGiven = (detail: string): Known<never> => unknown({ reason: 'inconsistent', detail, paths: [] });

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
    const files = await readFiles(options, readSpec(entries), { pool, folder, entries, unit: options.unit, out });
    if (typeof files === 'string') {
      out.error(`check: ${files}`);
      return 1;
    }
    const spec = readSpec(entries);
    const verdicts = await evaluate(spec, new OfflineMeasurements(files), pool);
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
