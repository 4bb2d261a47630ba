import { createHash } from 'node:crypto';
import * as sha256 from 'lib0/hash/sha256';
import { describe, expect, it } from 'vitest';
import { canonical, digest, hex } from './digest.ts';

describe('canonical JSON', () => {
  it('numbers print as the sample of RFC 8785 appendix B (from memory of RFC 8785)', () => {
    const samples: readonly (readonly [number, string])[] = [
      [0, '0'],
      [-0, '0'],
      [5e-324, '5e-324'],
      [-5e-324, '-5e-324'],
      [1.7976931348623157e308, '1.7976931348623157e+308'],
      [9007199254740992, '9007199254740992'],
      [295147905179352830000, '295147905179352830000'],
      [1e21, '1e+21'],
      [9.999999999999997e22, '9.999999999999997e+22'],
      [0.000001, '0.000001'],
      [333333333.3333333, '333333333.3333333'],
      [1e-27, '1e-27'],
    ];
    for (const [number, text] of samples) expect(canonical(number)).toBe(text);
  });

  it('the worked example of RFC 8785 section 3.2 (from memory of RFC 8785)', () => {
    const value: unknown = JSON.parse(
      String.raw`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`,
    );
    expect(canonical(value)).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });

  it('keys sort by UTF-16 code units: a surrogate pair before U+FB33 (RFC 8785 section 3.2.3, from memory)', () => {
    const order = ['\r', '1', '\u0080', '\u00f6', '\u20ac', '\ud83d\ude00', '\ufb33'];
    const text = canonical(Object.fromEntries([...order].reverse().map((key, i) => [key, i])));
    const places = order.map((key) => text.indexOf(`${JSON.stringify(key)}:`));
    expect(places[0]).toBe(1);
    expect(places).toEqual([...places].sort((x, y) => x - y));
  });

  it('the order of writing does not matter, the order of a list does', () => {
    expect(canonical({ b: 1, a: { d: [1, 2], c: null } })).toBe('{"a":{"c":null,"d":[1,2]},"b":1}');
    expect(canonical([2, 1])).not.toBe(canonical([1, 2]));
    expect(canonical({ 10: 1, 9: 2 })).toBe('{"10":1,"9":2}');
  });

  it('tells apart, and never throws for, what JSON cannot hold', () => {
    const values = [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 10n, undefined, 0, 'x'];
    const texts = values.map((v) => canonical(v));
    expect(new Set(texts).size).toBe(values.length);
    for (const v of [...values, Symbol('s'), () => 1]) expect(() => JSON.parse(canonical([v, { v }]))).not.toThrow();
    expect(canonical([undefined, 1])).toBe('[null,1]');
    expect(canonical(new Array(2))).toBe('[null,null]');
    expect(canonical({ a: undefined, b: 1 })).toBe('{"b":1}');
  });
});

describe('digest', () => {
  // canonical() puts text in quotes, so the bare messages go to the hash that digest() uses.
  it.each([
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
  ])('SHA-256 of %j is the known answer (FIPS 180 examples, from memory)', (message, answer) => {
    expect(hex(sha256.digest(new TextEncoder().encode(message)))).toBe(answer);
  });

  it('hex keeps leading zeros', () => {
    expect(hex(new Uint8Array([0, 15, 255]))).toBe('000fff');
  });

  it('equals SHA-256 of the canonical UTF-8 text for any length around the block size', () => {
    for (let n = 0; n < 200; n++) {
      const value = { text: 'aé€😀'.repeat(n), n };
      expect(digest(value)).toBe(createHash('sha256').update(canonical(value), 'utf8').digest('hex'));
    }
  });
});
