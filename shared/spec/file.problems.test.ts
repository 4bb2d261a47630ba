import { describe, expect, it } from 'vitest';
import { importSpec, PROBLEM_LIMIT, parseSpecText, SPEC_FILE_LIMIT } from './file.ts';

const head = { format: 'slipjoint-spec', version: 1 };

const nested = (depth: number, key: string): unknown => {
  let value: unknown = 1;
  for (let i = 0; i < depth; i++) value = { [key]: value };
  return value;
};

/** Name, file content, path of the problem, its words. */
const wrong: readonly (readonly [string, unknown, string, RegExp])[] = [
  ['a list', [], '', /expected a JSON object, got a list of 0/],
  ['null', null, '', /expected a JSON object, got null/],
  ['text', 'x', '', /got "x"/],
  ['no format', { version: 1 }, 'format', /expected "slipjoint-spec", got nothing/],
  ['another format', { format: 'other', version: 1 }, 'format', /got "other"/],
  ['no version', { format: 'slipjoint-spec' }, 'version', /expected 1, got nothing/],
  ['a newer version', { format: 'slipjoint-spec', version: 2 }, 'version', /expected 1, got 2/],
  ['a version in quotes', { format: 'slipjoint-spec', version: '1' }, 'version', /got "1"/],
  ['an unknown branch', { ...head, tubes: {} }, 'tubes', /expected one of project, engine.*got "tubes"/],
  ['ticks', { ...head, ticks: {} }, 'ticks', /expected one of/],
  ['a group that is text', { ...head, tube: 'x' }, 'tube', /expected an object, got "x"/],
  ['a group that is null', { ...head, tube: null }, 'tube', /expected an object, got null/],
  ['an unknown field', { ...head, tube: { wal: 1 } }, 'tube.wal', /expected a field of tube, got "wal"/],
  ['an inherited name', { ...head, tube: { toString: 1 } }, 'tube.toString', /expected a field of tube/],
  [
    'a collection that is a list',
    { ...head, runners: [] },
    'runners',
    /expected an object keyed by id, got a list of 0/,
  ],
  ['an element that is a number', { ...head, holes: { a: 1 } }, 'holes.a', /expected an object, got 1/],
  ['a bad id', { ...head, holes: { 'S 1': {} } }, 'holes.S 1', /expected an id.*got "S 1"/],
  ['an id with a dot', { ...head, holes: { 'a.x': {} } }, 'holes.a.x', /expected an id/],
  ['an empty id', { ...head, holes: { '': {} } }, 'holes.', /expected an id.*got ""/],
  ['a long id', { ...head, holes: { [`${'a'.repeat(41)}`]: {} } }, `holes.${'a'.repeat(41)}`, /expected an id/],
  [
    'an order that is text',
    { ...head, holes: { a: { order: '1' } } },
    'holes.a.order',
    /expected a finite number, got "1"/,
  ],
  ['an order that is null', { ...head, holes: { a: { order: null } } }, 'holes.a.order', /got null/],
  [
    'an unknown field of an element',
    { ...head, holes: { a: { wall: 1 } } },
    'holes.a.wall',
    /expected a field of holes\.a/,
  ],
  [
    'a field by path',
    { ...head, runners: { a: { 'nodes.n.x': 1 } } },
    'runners.a.nodes.n.x',
    /expected a field of runners\.a/,
  ],
  [
    'nodes of a hole',
    { ...head, holes: { a: { nodes: {} } } },
    'holes.a.nodes',
    /expected a field of holes\.a, got "nodes"/,
  ],
  [
    'nodes of a node',
    { ...head, runners: { a: { nodes: { n: { nodes: {} } } } } },
    'runners.a.nodes.n.nodes',
    /expected a field/,
  ],
  ['nodes as a list', { ...head, runners: { a: { nodes: [] } } }, 'runners.a.nodes', /keyed by id, got a list/],
  ['a bad node id', { ...head, runners: { a: { nodes: { N: {} } } } }, 'runners.a.nodes.N', /expected an id/],
  [
    'a name twice',
    { ...head, holes: { a: { name: 'S' }, b: { name: ' s ' } } },
    'holes.b.name',
    /expected each name once, got "s, twice"/,
  ],
  ['a quantity that is null', { ...head, tube: { wall: null } }, 'tube.wall', /expected text or a number, got null/],
  ['a quantity that is a list', { ...head, tube: { wall: [1] } }, 'tube.wall', /got a list of 1/],
  ['a quantity as stored', { ...head, tube: { wall: { si: 0.002, as: '2 mm' } } }, 'tube.wall', /got an object/],
  ['a quantity that is true', { ...head, tube: { wall: true } }, 'tube.wall', /expected a number, got true/],
  ['NaN', { ...head, tube: { wall: Number.NaN } }, 'tube.wall', /finite number, got NaN/],
  ['infinity', { ...head, tube: { wall: Number.POSITIVE_INFINITY } }, 'tube.wall', /finite/],
  [
    'a quantity out of bounds',
    { ...head, tube: { wall: 0.1 } },
    'tube.wall',
    /expected 0\.50 mm to 8\.00 mm, got 100\.00 mm/,
  ],
  ['text out of bounds', { ...head, tube: { wall: '9 mm' } }, 'tube.wall', /got 9\.00 mm/],
  [
    'millimetres where SI is meant',
    { ...head, tube: { outsideDiameter: 44.45 } },
    'tube.outsideDiameter',
    /got 44450\.00 mm/,
  ],
  ['bare text', { ...head, tube: { wall: '2' } }, 'tube.wall', /expected a unit after the number, such as mm, got "2"/],
  [
    'a bare negative',
    { ...head, runners: { a: { nodes: { n: { x: '\u22122' } } } } },
    'runners.a.nodes.n.x',
    /expected a unit/,
  ],
  ['a bare fraction', { ...head, tube: { wall: '5/8' } }, 'tube.wall', /expected a unit/],
  ['a bare mixed fraction', { ...head, tube: { wall: '1-5/8' } }, 'tube.wall', /expected a unit/],
  ['a bare share', { ...head, turbo: { unsupportedShare: '0.5' } }, 'turbo.unsupportedShare', /expected a unit.*%/],
  ['the wrong unit', { ...head, tube: { wall: '2 kg' } }, 'tube.wall', /expected a length in m, mm.*got "kg"/],
  ['a doubtful comma', { ...head, tube: { wall: '1,234 mm' } }, 'tube.wall', /two ways/],
  ['empty text', { ...head, tube: { wall: '' } }, 'tube.wall', /got nothing/],
  ['an integer in quotes', { ...head, engine: { cylinders: '4' } }, 'engine.cylinders', /expected a number, got "4"/],
  ['a broken integer', { ...head, engine: { cylinders: 4.5 } }, 'engine.cylinders', /whole number, got 4\.5/],
  [
    'an integer as stored',
    { ...head, engine: { cylinders: { si: 4, as: '4' } } },
    'engine.cylinders',
    /expected a number, got an object/,
  ],
  [
    'an unknown choice',
    { ...head, tube: { alloy: 'wood' } },
    'tube.alloy',
    /expected one of 625, 321, 304 or the id of a row of materials, got "wood"/,
  ],
  ['a choice as a number', { ...head, tube: { alloy: 625 } }, 'tube.alloy', /expected text, got 625/],
  ['blank text', { ...head, project: { title: ' ' } }, 'project.title', /expected some text/],
  ['long text', { ...head, project: { title: 'x'.repeat(121) } }, 'project.title', /at most 120 characters, got 121/],
  ['a bad sequence', { ...head, engine: { firingOrder: '1-99' } }, 'engine.firingOrder', /whole numbers from 1 to 16/],
  ['deep nesting in a field', { ...head, tube: { wall: nested(10_000, 'a') } }, 'tube.wall', /got an object/],
  [
    'deep nesting of nodes',
    { ...head, runners: { a: nested(10_000, 'nodes') } },
    'runners.a.nodes.nodes.nodes',
    /expected a field of runners\.a\.nodes\.nodes/,
  ],
  ['deep nesting at the top', nested(10_000, 'tube'), 'format', /got nothing/],
];

describe('problems', () => {
  it.each(wrong)('%s', (_, content, path, words) => {
    const read = importSpec(content);
    if (read.ok) throw new Error('was taken');
    const problem = read.problems.find((p) => p.path === path);
    expect(problem?.message, JSON.stringify(read.problems.slice(0, 3))).toMatch(words);
    for (const p of read.problems) {
      expect(p.message).toMatch(/got|two ways/);
      // The longest lists every branch there is.
      expect(p.message.length).toBeLessThan(600);
    }
  });

  it('a key named __proto__ is a key like any other', () => {
    const read = parseSpecText('{"format":"slipjoint-spec","version":1,"__proto__":{},"tube":{"__proto__":1}}');
    expect(read.ok ? [] : read.problems.map((p) => p.path)).toEqual(['__proto__', 'tube.__proto__']);
  });

  it('all are listed at once, and nothing is handed out beside them', () => {
    const read = importSpec({
      ...head,
      tube: { wall: 9, alloy: 'x', outsideDiameter: '44 mm' },
      holes: { A: {}, b: { x: 'y' } },
    });
    expect(read.ok).toBe(false);
    expect('entries' in read).toBe(false);
    expect(read.ok ? [] : read.problems.map((p) => p.path)).toEqual([
      'tube.wall',
      'holes.A',
      'holes.b.x',
      'tube.alloy',
    ]);
  });

  it.each(['', 'x', '{', '{"format":NaN}', '[1,]', '\ufeff', '{"a":Infinity}'])('text that is no JSON: %j', (text) => {
    const read = parseSpecText(text);
    expect(read.ok ? '' : read.problems[0]?.message).toMatch(/expected JSON, got text that is not/);
  });

  it('a name given twice is a problem: JSON would keep the last and lose the other', () => {
    const text = '{"format":"slipjoint-spec","version":1,"tube":{"wall":"2 mm","wall":"3 mm"},"holes":{"a":{},"a":{}}}';
    const read = parseSpecText(text);
    expect(read.ok ? [] : read.problems.map((p) => p.path)).toEqual(['tube.wall', 'holes.a']);
    expect(read.ok ? '' : read.problems[0]?.message).toMatch(/expected each name once in its object, got it twice/);
  });

  it('nested lists 10,000 deep are text like any other', () => {
    expect(parseSpecText(`${'['.repeat(10_000)}${']'.repeat(10_000)}`)).toEqual({
      ok: false,
      problems: [{ path: '', message: 'expected a JSON object, got a list of 1' }],
    });
    const inside = `{"format":"slipjoint-spec","version":1,"tube":{"wall":${'['.repeat(10_000)}${']'.repeat(10_000)}}}`;
    const read = parseSpecText(inside);
    expect(read.ok ? [] : read.problems.map((p) => p.path)).toEqual(['tube.wall']);
  });

  it('a file beyond the limit is refused before it is read', () => {
    const read = parseSpecText(JSON.stringify({ ...head, project: { title: 'x'.repeat(SPEC_FILE_LIMIT) } }));
    expect(read.ok ? '' : read.problems[0]?.message).toMatch(/expected at most 1000000 characters, got 1000\d+/);
  });

  it('a file with very many problems lists the first and counts the rest', () => {
    const holes = Object.fromEntries(Array.from({ length: 2000 }, (_, i) => [`h${i}`, { wrong: 1 }]));
    const read = importSpec({ ...head, holes });
    const problems = read.ok ? [] : read.problems;
    expect(problems).toHaveLength(PROBLEM_LIMIT + 1);
    expect(problems.at(-1)?.message).toBe('expected no problems, got 1500 more like these');
  });

  it('long keys and values do not make long problems', () => {
    const read = importSpec({ ...head, [`${'k'.repeat(1e5)}`]: 1, tube: { alloy: 'v'.repeat(1e5) } });
    for (const p of read.ok ? [] : read.problems) expect(p.path.length + p.message.length).toBeLessThan(1000);
  });
});
