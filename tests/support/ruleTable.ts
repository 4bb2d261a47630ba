import { describe, expect, it } from 'vitest';
import type { MeasureJob } from '../../shared/geometry/measurement.ts';
import { type Measurements, MemoStore } from '../../shared/quantities/context.ts';
import type { Rule } from '../../shared/rules/define.ts';
import { verdictKey } from '../../shared/rules/define.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import { verdictWords } from '../../shared/rules/words.ts';
import { fieldAt, isCollectionKey } from '../../shared/spec/path.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import { checkTyped } from '../../shared/spec/validate.ts';
import { formatNumber, fromSi } from '../../shared/units/format.ts';
import { isQuantityKey, quantityRow } from '../../shared/units/quantities.ts';
import { baseEntries } from './baseSpec.ts';
import { type MeasuredMembers, measuredAs, pendingMeasurements } from './measurements.ts';
import { watchedSpec } from './watchedSpec.ts';

type Overrides = Readonly<Record<string, unknown>>;
type Status = Verdict['status'];
type Reason = Extract<Verdict, { status: 'unknown' }>['why']['reason'];

interface Common {
  /** Unique within the table. */
  readonly name: string;
  /** Entries of the base spec to replace; undefined removes one. */
  readonly spec?: Overrides;
  readonly subject: string;
  /** What the worker measured, members that differ from the comfortable result; left out, the measurement is pending. Only for rules of cost `measured`. */
  readonly measured?: MeasuredMembers;
}
/** A case with its outcome. */
interface Case extends Common {
  /** `pass` is a comfortable one; `published` is a worked check and needs its citation. */
  readonly kind: 'pass' | 'fail' | 'published' | 'validity' | 'inconsistent' | 'pending' | 'notApplicable';
  readonly expect: Status;
  /** Measured value, SI, relative tolerance (default 1e-9). */
  readonly value?: number;
  readonly tolerance?: number;
  readonly limit?: number;
  readonly message?: string;
  /** A spec path that the reason must name. */
  readonly path?: string;
  /** The whole message as people read it, figures and units in place. */
  readonly says?: string;
  /** Whether a pass is told to be close to its limit. */
  readonly close?: boolean;
  readonly citation?: string;
}
/** One input moved until the status flips: the last value inside is at the limit, the next number is one step beyond. */
interface Boundary extends Common {
  readonly kind: 'boundary';
  /** A numeric spec path, or `measured.` and a member of the result, or of one of its members. */
  readonly move: string;
  /** What is stored for the moved number, when that is not the number itself. */
  readonly as?: (x: number) => string;
  readonly inside: number;
  readonly outside: number;
  readonly expectInside: Status;
  readonly expectOutside: Status;
  /** The limit met there, SI of the rule's quantity, and where on the moved input it lies when known. */
  readonly limit: number;
  readonly at?: number;
  readonly tolerance?: number;
}
export type Row = Case | Boundary;

export interface TableOptions {
  /** Required kinds this rule cannot have, each with the reason. */
  readonly without?: Readonly<Partial<Record<'validity', string>>>;
  /** Fields that may be empty without making the verdict unknown: their path endings, each with the reason. */
  readonly optional?: Readonly<Record<string, string>>;
}

/** Evaluates one subject of a rule on the base spec with overrides, the way an engine would. */
export function evaluateRow(
  rule: Rule,
  row: Common,
): {
  verdict: Verdict | undefined;
  reads: ReadonlySet<string>;
  branches: ReadonlySet<string>;
  jobs: readonly MeasureJob[];
} {
  const spec = deepFreeze(readSpec(baseEntries(row.spec)));
  const jobs: MeasureJob[] = [];
  const measured = measurementsOf(row, (job) => jobs.push(job));
  const watched = watchedSpec(spec, rule.branches, rule.fields);
  const run = (seen: Spec) =>
    rule
      .run({ spec: seen, measured, memo: new MemoStore().memo }, new Map(), () => {})
      .get(verdictKey(rule.id, row.subject))?.verdict;
  const verdict = run(watched.spec);
  expect(run(spec), 'two runs differ, or the watched spec changed the outcome').toEqual(verdict);
  return { verdict, reads: watched.reads, branches: watched.branches, jobs };
}

/** Results are frozen: a rule that writes to one breaks. */
function measurementsOf({ measured }: Common, asked: (job: MeasureJob) => void): Measurements {
  const source = measured ? measuredAs(measured, asked) : { ...pendingMeasurements };
  return {
    measure: (job) => {
      if (!measured) asked(job);
      return deepFreeze(source.measure(job));
    },
  };
}

/** Runs a rule's table and everything that follows from its metadata alone. */
export function ruleTable(rule: Rule, rows: readonly Row[], options: TableOptions = {}): void {
  const cases = rows.filter((row) => row.kind !== 'boundary');
  const boundaries = rows.filter((row) => row.kind === 'boundary');
  const comfortable = cases.filter((row) => row.kind === 'pass');
  describe(`${rule.id}`, () => {
    it('has the rows a rule needs', () => checkTable(rule, rows, options));
    it.each(cases.map((row) => [row.name, row] as const))('%s', (_name, row) => checkCase(rule, row));
    it.each(boundaries.map((row) => [row.name, row] as const))('%s', (_name, row) => checkBoundary(rule, row));
    it('uses every message', () => {
      const used = new Set(cases.map((row) => messageOf(evaluateRow(rule, row).verdict)));
      for (const id of Object.keys(rule.messages)) expect(used, `message ${id}`).toContain(id);
    });
    const first = comfortable[0];
    if (!first) return;
    // A rule that cannot even be read must fail a test, not the collection of them.
    let paths: readonly string[] = [];
    try {
      paths = needed(rule, first, options);
    } catch (fault) {
      it('can be read', () => {
        throw fault;
      });
    }
    it.each(paths)('is unknown without %s', (path) => checkMissing(rule, first, path));
    it('judges the same value typed in any unit alike', () => checkUnits(rule, first));
  });
}

/** Paths of values the rule read for a row, in order. Names and order only label a subject, unless the rule says otherwise. */
export function readPaths(rule: Rule, row: Common): readonly string[] {
  const entries = baseEntries(row.spec);
  return [...evaluateRow(rule, row).reads].filter((path) => entries.has(path)).sort();
}

function needed(rule: Rule, row: Common, options: TableOptions): readonly string[] {
  const endings = Object.keys(options.optional ?? {});
  return readPaths(rule, row).filter((path) => !path.endsWith('.name') && !endings.some((end) => path.endsWith(end)));
}

function checkTable(rule: Rule, rows: readonly Row[], options: TableOptions): void {
  const names = rows.map((row) => row.name);
  expect(names, 'duplicate row names').toEqual([...new Set(names)]);
  const kinds = new Set<string>(rows.map((row) => row.kind));
  for (const kind of ['pass', 'fail', 'boundary', 'published'] as const)
    expect(kinds, `no ${kind} row`).toContain(kind);
  const excuse = options.without?.validity;
  if (excuse === undefined) expect(kinds, 'no validity row').toContain('validity');
  else expect(excuse).not.toBe('');
  if (rule.cost === 'measured') expect(kinds, 'no pending row').toContain('pending');
  checkWords(rule);
}

/** Members that are one of a few words: the compiler holds them, and no test would miss another word for the same. */
function checkWords(rule: Rule): void {
  expect(['block', 'advise']).toContain(rule.severity);
  expect(['cheap', 'measured']).toContain(rule.cost);
  expect(isQuantityKey(rule.quantity)).toBe(true);
  expect(['max', 'min', 'range', false]).toContain(rule.adjustable);
}

const subjectKinds = [
  'job',
  'runner',
  'runner-pair',
  'runner-component',
  'component',
  'bend',
  'hole',
  'piece',
  'piece-component',
  'joint',
  'purge',
  'sensor',
  'reading',
];

function checkCase(rule: Rule, row: Case): void {
  const { verdict } = evaluateRow(rule, row);
  if (!verdict) throw new Error(`no verdict for subject ${row.subject}`);
  expect(verdict.status, JSON.stringify(verdict)).toBe(row.expect);
  checkReason(verdict, row);
  if (row.kind === 'published') {
    expect(row.citation ?? '', 'a published row needs its citation').not.toBe('');
    expect(row.value, 'a published row needs its value').toBeDefined();
  }
  checkJudged(rule, verdict);
  if (row.kind === 'pass') expect(verdict).toMatchObject({ status: 'pass', close: false });
  if (row.message !== undefined) expect(messageOf(verdict)).toBe(row.message);
  if (row.says !== undefined) expect(verdictWords(verdict, rule).message).toBe(row.says);
  if (row.close !== undefined) expect(verdict).toMatchObject({ status: 'pass', close: row.close });
  if (row.value !== undefined) near(judgedOf(verdict).measured, row.value, row.tolerance);
  if (row.limit !== undefined)
    expect(limitsOf(verdict).some((limit) => close(limit, row.limit ?? Number.NaN, row.tolerance))).toBe(true);
}

const reasons: Readonly<Partial<Record<Case['kind'], Reason>>> = {
  validity: 'outOfValidity',
  inconsistent: 'inconsistent',
  pending: 'pending',
};

function checkReason(verdict: Verdict, row: Case): void {
  const reason = reasons[row.kind];
  if (reason !== undefined) expect(verdict).toMatchObject({ status: 'unknown', why: { reason } });
  if (row.path !== undefined) expect(JSON.stringify(verdict)).toContain(row.path);
  if (verdict.status !== 'unknown' || verdict.why.reason !== 'outOfValidity') return;
  expect(verdict.why.input).not.toBe('');
  expect(verdict.why.unit).not.toBe('');
}

/** What must hold for any judged verdict: margin agrees with status, no placeholder left, words say the same. */
function checkJudged(rule: Rule, verdict: Verdict): void {
  const words = verdictWords(verdict, rule);
  expect(words.label).not.toBe('');
  expect(subjectKinds).toContain(verdict.subject.kind);
  expect(verdict.subject.name).not.toBe('');
  expect(words.message).not.toMatch(/[{}]/);
  expect(JSON.stringify(words)).not.toMatch(/NaN|undefined|Infinity/);
  if (verdict.status === 'unknown') expect(verdict.why.reason, JSON.stringify(verdict.why)).not.toBe('fault');
  if (verdict.status === 'pass') expect(verdict.margin).toBeGreaterThanOrEqual(0);
  if (verdict.status === 'fail' || verdict.status === 'caution') expect(verdict.margin).toBeLessThan(0);
}

/** Bisects the moved input down to neighbouring numbers. */
function checkBoundary(rule: Rule, row: Boundary): void {
  const evaluateAt = (x: number) => evaluateRow(rule, moved(row, x)).verdict;
  expect(evaluateAt(row.inside)?.status, 'inside').toBe(row.expectInside);
  expect(evaluateAt(row.outside)?.status, 'outside').toBe(row.expectOutside);
  let [inside, outside] = [row.inside, row.outside];
  for (let i = 0; i < 80; i++) {
    const middle = (inside + outside) / 2;
    if (middle === inside || middle === outside) break;
    if (evaluateAt(middle)?.status === row.expectOutside) outside = middle;
    else inside = middle;
  }
  const [last, next] = [evaluateAt(inside), evaluateAt(outside)];
  expect(last?.status).toBe(row.expectInside);
  for (const verdict of [last, next]) {
    if (!verdict) throw new Error('no verdict');
    checkJudged(rule, verdict);
    near(judgedOf(verdict).measured, row.limit, row.tolerance);
    expect(limitsOf(verdict).some((limit) => close(limit, row.limit, row.tolerance)) || verdict === last).toBe(true);
  }
  if (row.at !== undefined) near(inside, row.at, row.tolerance);
}

function moved(row: Boundary, x: number): Common {
  const [branch, member = '', within] = row.move.split('.');
  if (branch === 'measured') {
    const value = within === undefined ? x : { ...Object(row.measured?.[member]), [within]: x };
    return { ...row, measured: { ...row.measured, [member]: value } };
  }
  return { ...row, spec: { ...row.spec, [row.move]: row.as ? row.as(x) : x } };
}

/** Without a value of its own subject or of a group the verdict is unknown and names it; another row's value may also not matter at all. */
function checkMissing(rule: Rule, row: Case, path: string): void {
  const { verdict } = evaluateRow(rule, { ...row, spec: { ...row.spec, [path]: undefined } });
  if (!verdict) throw new Error('no verdict');
  if (ofAnotherRow(path, verdict.subject) && verdict.status !== 'unknown') {
    expect(verdict).toEqual(evaluateRow(rule, row).verdict);
    return;
  }
  expect(verdict).toMatchObject({ status: 'unknown', why: { reason: 'missing' } });
  if (verdict.status !== 'unknown' || verdict.why.reason !== 'missing') return;
  expect(verdict.why.paths).toContain(path);
  checkJudged(rule, verdict);
}

function ofAnotherRow(path: string, { kind, id: subject }: Verdict['subject']): boolean {
  const [branch, id] = path.split('.');
  if (kind === 'job' || branch === undefined || id === undefined || !isCollectionKey(branch)) return false;
  return !subject.split('~').includes(id);
}

/** Types every number the rule reads in every unit of its quantity. */
function checkUnits(rule: Rule, row: Case): void {
  const plain = evaluateRow(rule, row).verdict;
  const entries = baseEntries(row.spec);
  let typed = 0;
  const paths = readPaths(rule, row);
  for (const path of paths) {
    const field = fieldAt(path);
    const value = entries.get(path);
    if (field?.kind !== 'quantity' || typeof value !== 'number') continue;
    for (const unit of quantityRow(field.quantity).units) {
      if (unit.symbol === '1') continue;
      const text = `${fromSi(value, unit)} ${unit.symbol}`;
      const checked = checkTyped(field, text);
      if (!checked.ok)
        throw new Error(`${path}: "${text}" (${formatNumber(field.quantity, value)}) is refused: ${checked.error}`);
      const again = evaluateRow(rule, { ...row, spec: { ...row.spec, [path]: checked.value } }).verdict;
      expect(again?.status, `${path} typed as ${text}`).toBe(plain?.status);
      if (plain && again) near(judgedOf(again).measured, judgedOf(plain).measured, 1e-9);
      typed += 1;
    }
  }
  // Counts, choices and sequences have no unit to type.
  if (paths.some((path) => fieldAt(path)?.kind === 'quantity')) expect(typed).toBeGreaterThan(0);
}

type Judged = Extract<Verdict, { status: 'pass' | 'fail' | 'caution' }>;

function judgedOf(verdict: Verdict): Judged {
  if (verdict.status === 'pass' || verdict.status === 'fail' || verdict.status === 'caution') return verdict;
  throw new Error(`expected a judged verdict, got ${JSON.stringify(verdict)}`);
}

function messageOf(verdict: Verdict | undefined): string | undefined {
  return verdict && 'message' in verdict ? verdict.message : undefined;
}

function limitsOf(verdict: Verdict): readonly number[] {
  const { limit } = judgedOf(verdict);
  return limit.kind === 'range' ? [limit.low, limit.high] : [limit.value];
}

function close(got: number, expected: number, tolerance = 1e-9): boolean {
  return Math.abs(got - expected) <= tolerance * Math.max(Math.abs(expected), 1e-6);
}

function near(got: number, expected: number, tolerance = 1e-9): void {
  expect(close(got, expected, tolerance), `got ${got}, expected ${expected} within ${tolerance}`).toBe(true);
}

function deepFreeze<T>(value: T): T {
  if (typeof value !== 'object' || value === null) return value;
  for (const member of Object.values(value)) if (!Object.isFrozen(member)) deepFreeze(member);
  return Object.freeze(value);
}
