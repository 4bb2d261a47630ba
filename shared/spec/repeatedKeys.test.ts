import { describe, expect, it } from 'vitest';
import { repeatedKeys } from './repeatedKeys.ts';

describe('repeatedKeys', () => {
  it.each<readonly [string, readonly string[]]>([
    ['{}', []],
    ['[]', []],
    ['"a"', []],
    ['5', []],
    ['{"a":1,"b":1}', []],
    ['{"a":1,"a":2}', ['a']],
    ['{"a":1,"a":2,"a":3}', ['a', 'a']],
    ['{"a":{"x":1},"b":{"x":1}}', []],
    ['{"a":{"x":1,"y":{"z":1,"z":2}}}', ['a.y.z']],
    ['{"tube":{"wall":1},"tube":{"wall":2}}', ['tube']],
    ['{"a":["b","b",{"c":1},{"c":2}],"b":1}', []],
    ['[{"a":1,"a":1}]', ['.a']],
    ['{"a":"a","b":"a"}', []],
    ['{"a":"{\\"a\\":1,\\"a\\":2}"}', []],
    ['{"a,b":1,"a:b":1,"a}":1,"a\\"":1,"a\\\\":1}', []],
    ['{"\\u0061":1,"a":2}', ['a']],
    [' { "a" : 1 , "a" : [ ] } ', ['a']],
    ['{"__proto__":1,"__proto__":2}', ['__proto__']],
    ['{"a":true,"b":null,"a":-1.5e3}', ['a']],
  ])('%s', (text, paths) => {
    expect(() => JSON.parse(text)).not.toThrow();
    expect(repeatedKeys(text)).toEqual(paths);
  });

  it('finds one at any depth', () => {
    const deep = `${'{"a":'.repeat(10_000)}{"x":1,"x":2}${'}'.repeat(10_000)}`;
    expect(repeatedKeys(deep)).toHaveLength(1);
  });
});
