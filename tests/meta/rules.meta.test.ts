import { describe, expect, it } from 'vitest';
import { gateBranches } from '../../shared/gates/coverage.ts';
import type { Rule } from '../../shared/rules/define.ts';
import { findRule, RULE_SET, rules } from '../../shared/rules/registry.ts';
import { gateIds } from '../../shared/spec/gateId.ts';
import { fieldAt, isCollectionKey } from '../../shared/spec/path.ts';
import { pageHeadings } from '../scaffold/newRule.ts';
import { evaluateRow, readPaths } from '../support/ruleTable.ts';

const sources = import.meta.glob<string>('../../shared/rules/*/*/rule.ts', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const pages = import.meta.glob<string>('../../shared/rules/*/*/rule.md', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const tables = import.meta.glob<string>('../../shared/rules/*/*/rule.test.ts', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const modules = import.meta.glob<Readonly<Record<string, unknown>>>('../../shared/rules/*/*/rule.ts', { eager: true });

const folder = (rule: Rule) => `../../shared/rules/${rule.gate}/${rule.id}`;
const folderOf = (file: string) => file.replace(/\/[^/]+$/, '');

interface PageExample {
  readonly name: string;
  readonly spec?: Readonly<Record<string, unknown>>;
  readonly subject: string;
  readonly measured?: Readonly<Record<string, number>>;
  readonly expect: string;
  readonly value?: number;
  readonly tolerance?: number;
}

function section(page: string, heading: string): string {
  return (
    page
      .split(/^## /m)
      .find((part) => part.startsWith(`${heading}\n`))
      ?.slice(heading.length)
      .trim() ?? ''
  );
}

function examplesIn(text: string): readonly PageExample[] {
  return [...text.matchAll(/```json\n([\s\S]*?)\n```/g)].map((match): PageExample => JSON.parse(match[1] ?? ''));
}

/** An empty field is written null on a page; the base spec takes undefined. */
function toRow(example: PageExample) {
  const spec = Object.fromEntries(
    Object.entries(example.spec ?? {}).map(([path, value]) => [path, value ?? undefined]),
  );
  return { ...example, spec };
}

describe('what a signature leaves to a later gate', () => {
  it.each(rules.flatMap((rule) => (rule.uncovered ?? []).map((branch) => [rule.id, branch, rule] as const)))(
    '%s: %s is read by it and covered by a gate behind its own',
    (_, branch, rule) => {
      expect(rule.branches).toContain(branch);
      const later = gateIds.slice(gateIds.indexOf(rule.gate) + 1);
      expect(later.some((gate) => gateBranches(gate, rules).includes(branch))).toBe(true);
    },
  );
});

const generic = (path: string) =>
  path
    .replace(/^(\w+)\.[^.]+/, (whole, branch: string) => (isCollectionKey(branch) ? `${branch}.*` : whole))
    .replace(/\.nodes\.[^.]+/, '.nodes.*');

describe('registry and folders', () => {
  it('has one registry line for each folder, and three files in each folder', () => {
    const registered = rules.map(folder).sort();
    for (const files of [sources, pages, tables]) expect(Object.keys(files).map(folderOf).sort()).toEqual(registered);
  });

  it('exports each rule from its own folder', () => {
    for (const rule of rules) expect(Object.values(modules[`${folder(rule)}/rule.ts`] ?? {})).toContain(rule);
  });

  it('is sorted, unique and findable', () => {
    const ids = rules.map((rule) => rule.id);
    expect(ids).toEqual([...new Set(ids)].sort());
    for (const rule of rules) expect(findRule(rule.id)).toBe(rule);
    expect(findRule('no-such-rule')).toBeNull();
    expect(RULE_SET).toBeGreaterThanOrEqual(1);
  });

  it('has no rule that imports another rule', () => {
    for (const [file, source] of Object.entries(sources)) expect(source, file).not.toMatch(/from '[^']*\/rule\.ts'/);
  });
});

describe.each(rules.map((rule) => [rule.id, rule] as const))('%s', (_id, rule) => {
  const page = pages[`${folder(rule)}/rule.md`] ?? '';
  const table = tables[`${folder(rule)}/rule.test.ts`] ?? '';
  const source = sources[`${folder(rule)}/rule.ts`] ?? '';

  it('says what it is in the fixed form', () => {
    expect(rule.id).toMatch(/^[a-z]+(-[a-z]+)+$/);
    expect(rule.title).toMatch(/^(Limit|Require|Forbid) [a-z].*[^.]$/);
    expect(rule.since).toBeGreaterThanOrEqual(1);
    expect(rule.since).toBeLessThanOrEqual(RULE_SET);
    for (const text of [rule.limit, rule.validity, rule.hazard, rule.remedy, rule.source.document])
      expect(text.length).toBeGreaterThan(10);
    expect(Object.keys(rule.messages).length).toBeGreaterThan(0);
  });

  it('has the fixed headings in the fixed order, none empty', () => {
    expect([...page.matchAll(/^## (.+)$/gm)].map((match) => match[1])).toEqual(pageHeadings);
    for (const heading of pageHeadings) expect(section(page, heading), heading).not.toBe('');
  });

  it('relates only to rules there are', () => {
    for (const [, id] of section(page, 'Related').matchAll(/`([a-z-]+)`/g))
      expect(findRule(id ?? ''), id).not.toBeNull();
  });

  const examples = [...examplesIn(section(page, 'Fails')), ...examplesIn(section(page, 'Passes'))];
  it.each(examples.map((example) => [example.name, example] as const))('page example: %s', (_name, example) => {
    const { verdict } = evaluateRow(rule, toRow(example));
    expect(verdict?.status).toBe(example.expect);
    if (example.value === undefined) return;
    const got = verdict && 'measured' in verdict ? verdict.measured : Number.NaN;
    expect(Math.abs(got - example.value)).toBeLessThanOrEqual(
      (example.tolerance ?? 1e-9) * Math.max(Math.abs(example.value), 1e-6),
    );
  });

  it('shows at least one failing and one passing example, in their own sections', () => {
    // A rule that only advises cautions where another fails.
    const worst = rule.severity === 'advise' ? 'caution' : 'fail';
    expect(examplesIn(section(page, 'Fails')).some((example) => example.expect === worst)).toBe(true);
    expect(examplesIn(section(page, 'Passes')).some((example) => example.expect === 'pass')).toBe(true);
    expect(examplesIn(section(page, 'Passes')).every((example) => example.expect !== 'fail')).toBe(true);
  });

  it('lists as inputs exactly what it reads, by the labels of the form', () => {
    const listed = [...section(page, 'Inputs').matchAll(/^- `([^`]+)`: (.+)$/gm)].map(
      ([, path, label]) => `${path}: ${label}`,
    );
    const read = new Map<string, string>();
    for (const example of examples.filter((one) => one.expect === 'pass')) {
      for (const path of readPaths(rule, toRow(example))) read.set(generic(path), fieldAt(path)?.label ?? '');
    }
    expect(listed).toEqual([...read].map(([path, label]) => `${path}: ${label}`).sort());
  });

  it('reads something of every branch it declares', () => {
    const [passing] = examples.filter((one) => one.expect === 'pass');
    if (!passing) throw new Error('no passing example');
    const { branches } = evaluateRow(rule, toRow(passing));
    expect([...rule.branches].sort()).toEqual([...branches].sort());
  });

  it('reads every field it declares, so that no edit runs it for nothing', () => {
    const declared = Object.entries(rule.fields ?? {}).flatMap(([branch, keys]) =>
      keys.map((key) => `${branch}.${key}`),
    );
    const read = new Set(examples.flatMap((example) => [...readPaths(rule, toRow(example))]));
    expect(declared.filter((path) => !read.has(path))).toEqual([]);
  });

  it('has a table test of its own rule that covers a rule that may not apply', () => {
    expect(table).toContain('ruleTable(');
    expect(table).toContain("from './rule.ts'");
    if (source.includes("'notApplicable'")) expect(table).toContain("kind: 'notApplicable'");
  });
});
