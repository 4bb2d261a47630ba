import { describe, expect, it } from 'vitest';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import { collections, groups } from '../../shared/spec/fields.ts';
import { runCommand } from './cli.fixture.ts';

describe('the command line', () => {
  it('explains itself', async () => {
    const help = await runCommand('help');
    expect(help).toMatchObject({ code: 0, errors: '' });
    for (const name of ['serve', 'demo', 'check', 'rules', 'calc', 'step', 'verify', 'spec-schema'])
      expect(help.out).toContain(`slipjoint ${name}`);
    expect(await runCommand('--help')).toEqual(help);
    expect(await runCommand()).toEqual({ ...help, code: 1 });
  });

  it.each([
    [['chek'], /expected one of serve, demo, check, materials, rules, calc, step, verify, spec-schema, got "chek"/],
    [['constructor'], /expected one of/],
    [['serve', 'now'], /serve: expected no arguments .*got now/],
    [['demo', 'now'], /demo: expected no arguments, got now/],
    [['verify'], /verify: expected one file, got 0/],
    [['spec-schema', 'now'], /spec-schema: expected no arguments, got now/],
    [['rules', '--jsn'], /rules: .*--jsn/],
    [['rules', 'design'], /rules: .*design/],
  ])('refuses %j', async (words, message) => {
    const ran = await runCommand(...words);
    expect(ran.code).toBe(1);
    expect(ran.errors).toMatch(message);
  });
});

describe('rules', () => {
  it('prints as JSON what the registry holds, less what computes', async () => {
    const { code, out } = await runCommand('rules', '--json');
    expect(code).toBe(0);
    const data = rules.map((rule) =>
      Object.fromEntries(Object.entries(rule).filter(([, value]) => typeof value !== 'function')),
    );
    expect(JSON.parse(out)).toEqual({ ruleSet: RULE_SET, rules: data });
    for (const one of data)
      expect(Object.keys(one)).toEqual(expect.arrayContaining(['id', 'gate', 'limit', 'source', 'hazard']));
  });

  it('lists each with gate, limit and source', async () => {
    const { code, out } = await runCommand('rules');
    expect(code).toBe(0);
    for (const { id, gate, title, limit, source } of rules) {
      expect(out).toContain(`${id}  (${gate}`);
      for (const text of [title, limit, source.document]) expect(out).toContain(text);
    }
  });
});

describe('spec-schema', () => {
  it('is a JSON Schema that knows every branch and field', async () => {
    const { code, out } = await runCommand('spec-schema');
    expect(code).toBe(0);
    const schema = JSON.parse(out);
    expect(schema.$schema).toMatch(/json-schema\.org/);
    for (const [key, fields] of Object.entries(groups))
      expect(Object.keys(schema.properties[key].properties)).toEqual(Object.keys(fields));
    for (const [key, fields] of Object.entries(collections))
      for (const field of Object.keys(fields)) expect(JSON.stringify(schema.properties[key])).toContain(`"${field}"`);
  });
});
