import { describe, expect, it } from 'vitest';
import { collections, groups, tables } from './fields.ts';
import { exportSpec } from './file.ts';
import { specJsonSchema } from './jsonSchema.ts';
import { checkStored } from './validate.ts';

type Node = Readonly<Record<string, unknown>>;
const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null && !Array.isArray(value);
const under = (node: unknown, ...path: string[]): Node =>
  path.reduce<Node>(
    (at, key) => {
      const next = at[key];
      if (!isNode(next)) throw new Error(`no ${key} in ${Object.keys(at).join()}`);
      return next;
    },
    isNode(node) ? node : {},
  );

/** Keywords of draft 2020-12 used here, and what each holds (from memory of the draft's core and validation documents). */
const keywords: Readonly<Record<string, (value: unknown) => boolean>> = {
  $schema: (v) => v === 'https://json-schema.org/draft/2020-12/schema',
  title: (v) => typeof v === 'string',
  description: (v) => typeof v === 'string',
  type: (v) => ['object', 'string', 'number', 'integer'].some((t) => t === v),
  const: () => true,
  enum: (v) => Array.isArray(v) && v.length > 0 && new Set(v).size === v.length,
  examples: Array.isArray,
  minimum: Number.isFinite,
  maximum: Number.isFinite,
  minLength: Number.isSafeInteger,
  maxLength: Number.isSafeInteger,
  pattern: (v) => typeof v === 'string' && new RegExp(v, 'u') instanceof RegExp,
  required: (v) => Array.isArray(v) && v.every((k) => typeof k === 'string'),
  additionalProperties: (v) => typeof v === 'boolean' || isNode(v),
  propertyNames: isNode,
  properties: isNode,
  oneOf: (v) => Array.isArray(v) && v.length > 0 && v.every(isNode),
};

function subschemas(schema: Node): Node[] {
  const { properties, additionalProperties, propertyNames, oneOf } = schema;
  const below = [...(isNode(properties) ? Object.values(properties) : []), additionalProperties, propertyNames];
  return [...below, ...(Array.isArray(oneOf) ? oneOf : [])].filter(isNode);
}

function everySchema(schema: Node): Node[] {
  return [schema, ...subschemas(schema).flatMap(everySchema)];
}

/** A validator of just the keywords above: where `value` breaks `schema`. */
function violations(schema: Node, value: unknown, at = ''): string[] {
  const out: string[] = [];
  const must = (ok: boolean, what: string): void => {
    if (!ok) out.push(`${at}: ${what}`);
  };
  if ('const' in schema) must(value === schema.const, 'const');
  if (Array.isArray(schema.enum)) must(schema.enum.includes(value), 'enum');
  if (schema.type === 'integer') must(Number.isInteger(value), 'integer');
  else if (schema.type === 'object') must(isNode(value), 'object');
  else if (schema.type !== undefined) must(typeof value === schema.type, String(schema.type));
  if (typeof value === 'number') {
    if (typeof schema.minimum === 'number') must(value >= schema.minimum, 'minimum');
    if (typeof schema.maximum === 'number') must(value <= schema.maximum, 'maximum');
  }
  if (typeof value === 'string') {
    if (typeof schema.minLength === 'number') must(value.length >= schema.minLength, 'minLength');
    if (typeof schema.maxLength === 'number') must(value.length <= schema.maxLength, 'maxLength');
    if (typeof schema.pattern === 'string') must(new RegExp(schema.pattern, 'u').test(value), 'pattern');
  }
  if (Array.isArray(schema.oneOf)) {
    must(schema.oneOf.filter((s) => violations(s, value).length === 0).length === 1, 'oneOf');
  }
  return isNode(value) ? [...out, ...membersViolating(schema, value, at)] : out;
}

function membersViolating(schema: Node, value: Node, at: string): string[] {
  const out = (Array.isArray(schema.required) ? schema.required : [])
    .filter((key) => !Object.hasOwn(value, String(key)))
    .map((key) => `${at}: required ${key}`);
  const properties = isNode(schema.properties) ? schema.properties : {};
  for (const [key, member] of Object.entries(value)) {
    const own = Object.hasOwn(properties, key) ? properties[key] : schema.additionalProperties;
    if (isNode(schema.propertyNames)) out.push(...violations(schema.propertyNames, key, `${at}/${key} (name)`));
    if (own === false) out.push(`${at}/${key}: not allowed`);
    else if (isNode(own)) out.push(...violations(own, member, `${at}/${key}`));
  }
  return out;
}

const schema: Node = specJsonSchema();
const head = { format: 'slipjoint-spec', version: 1 };

describe('the JSON Schema', () => {
  it('uses keywords of draft 2020-12 only, each holding what it may', () => {
    const all = everySchema(schema);
    expect(all.length).toBeGreaterThan(100);
    for (const node of all)
      for (const [key, value] of Object.entries(node)) expect([key, keywords[key]?.(value)]).toEqual([key, true]);
  });

  it('has every field row, with its label, and no other', () => {
    for (const [key, rows] of Object.entries(groups)) {
      const properties = under(schema, 'properties', key, 'properties');
      expect(Object.keys(properties)).toEqual(Object.keys(rows));
      for (const [name, field] of Object.entries(rows)) expect(under(properties, name).title).toBe(field.label);
    }
    for (const [key, rows] of Object.entries(collections)) {
      const properties = under(schema, 'properties', key, 'additionalProperties', 'properties');
      const inside: Readonly<Record<string, object>> =
        Object.entries(tables).find(([branch]) => branch === key)?.[1] ?? {};
      const listed = ['order', ...Object.keys(inside), ...Object.keys(rows)];
      expect(Object.keys(properties)).toEqual(listed);
      for (const [table, fields] of Object.entries(inside)) {
        const row = under(properties, table, 'additionalProperties');
        expect(Object.keys(under(row, 'properties'))).toEqual(['order', ...Object.keys(fields)]);
      }
    }
    expect(Object.keys(under(schema, 'properties'))).toEqual([
      'format',
      'version',
      ...Object.keys(groups),
      ...Object.keys(collections),
    ]);
  });

  it('says no unit symbol 1 to a person', () => {
    for (const { description } of everySchema(schema))
      expect(String(description)).not.toMatch(/number in 1[. ]|\(1[,)]/);
  });

  it('an exported file satisfies it', () => {
    const document = new Map<string, unknown>([
      ['tube.wall', { si: 0.002, as: '2 mm' }],
      ['tube.wallTemperature', 1000.123456789],
      ['tube.alloy', '625'],
      ['engine.cylinders', 4],
      ['engine.lambda', 0.85],
      ['engine.firingOrder', '1 - 3, 4;2'],
      ['project.title', 'Header'],
      ['runners.r1', 1],
      ['runners.r1.name', 'Runner 1'],
      ['runners.r1.nodes.n1', 1],
      ['runners.r1.nodes.n1.x', -0.1],
      ['holes.s1', 2],
      ['joints.j1', 1],
      ['joints.j1.travelSpeed', 1 / 625],
      ['flange.alloy', 'm1'],
      ['materials.m1', 1],
      ['materials.m1.density', 8190],
      ['materials.m1.points.p1', 1],
      ['materials.m1.points.p1.yield', 400e6],
      ['materials.m1.ruptures.q', 1],
      ['materials.m1.ruptures.q.life', 3.6e6],
      ['limits.runner-mach', 1],
      ['limits.runner-mach.most', 0.5],
      ['limits.runner-mach.reason', 'short runners'],
    ]);
    const file: unknown = JSON.parse(JSON.stringify(exportSpec(document)));
    expect(violations(schema, file)).toEqual([]);
  });

  it.each<readonly [string, unknown]>([
    ['no format', { version: 1 }],
    ['another version', { ...head, version: 2 }],
    ['an unknown branch', { ...head, tubes: {} }],
    ['an unknown field', { ...head, tube: { wal: 1 } }],
    ['a number out of bounds', { ...head, tube: { wall: 1 } }],
    ['a quantity that is null', { ...head, tube: { wall: null } }],
    ['a broken integer', { ...head, engine: { cylinders: 1.5 } }],
    ['an unknown choice', { ...head, flange: { spanEnds: 'sawn' } }],
    ['no id of a material', { ...head, tube: { alloy: 'Wood' } }],
    ['a limit in words', { ...head, limits: { 'runner-mach': { most: '0.5' } } }],
    ['ruptures of a runner', { ...head, runners: { a: { ruptures: {} } } }],
    ['a bad id', { ...head, holes: { 'S 1': {} } }],
    ['nodes of a hole', { ...head, holes: { a: { nodes: {} } } }],
  ])('refuses %s (so the check above can fail)', (_, content) => {
    expect(violations(schema, content)).not.toEqual([]);
  });

  it.each(['1-3-4-2', '1', ' 1, 2 ', '1 2', '1;2', '1--2', '-1', '1-', '', 'x', '1 - 2'])(
    'its pattern of a sequence agrees with the reader on %j',
    (text) => {
      const pattern = under(schema, 'properties', 'engine', 'properties', 'firingOrder').pattern;
      expect(new RegExp(String(pattern), 'u').test(text)).toBe(checkStored(groups.engine.firingOrder, text).ok);
    },
  );
});
