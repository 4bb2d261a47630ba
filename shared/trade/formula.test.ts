import { describe, expect, it } from 'vitest';
import { validityTable } from '../../tests/support/validityTable.ts';
import { unknown } from '../units/known.ts';
import { inconsistent, outsideLimits as outsideRanges } from './data/validity.ts';
import { defineFormula, formulaLine } from './formula.ts';
import { contradiction, outsideLimits } from './limits.ts';
import { sourceLine, sourceWords, trustWords } from './source.ts';

const source = { document: 'own', trust: 'own' } as const;
const half = defineFormula({
  id: 'half',
  title: 'Half of a length',
  inputs: { length: { quantity: 'length', range: [-1, 2], help: 'L' } },
  output: { quantity: 'length', help: 'L/2' },
  source,
  examples: [{ inputs: { length: 1 }, expected: 0.5, tolerance: 0, source }],
  compute: ({ length }) => {
    if (length === 1.5) return Number.POSITIVE_INFINITY;
    if (length === 1.25) return unknown({ reason: 'inconsistent', detail: 'odd', paths: ['here'] });
    return length / 2;
  },
});

describe('a formula', () => {
  it('keeps what was written down for it', () => {
    expect(half).toMatchObject({ id: 'half', title: 'Half of a length', output: { quantity: 'length' } });
  });

  it('says its value in the unit people read', () => {
    expect(formulaLine(half, 0.0125)).toBe('half = 12.50 mm');
  });

  it('reports a result that is no number, and hands its own reasons on', () => {
    expect(half.evaluate({ length: 1.5 })).toEqual({
      known: false,
      why: { reason: 'inconsistent', detail: 'half: expected a finite result, got Infinity', paths: [] },
    });
    expect(half.evaluate({ length: 1.25 })).toEqual({
      known: false,
      why: { reason: 'inconsistent', detail: 'odd', paths: ['here'] },
    });
    expect(half.evaluate({ length: 1 })).toEqual({ known: true, value: 0.5 });
  });
});

validityTable({
  name: 'half',
  call: half.evaluate,
  good: { length: 1 },
  rows: { length: ['length', -1, 2] },
});

describe('limits of plain functions', () => {
  const limits = { a: ['length', 0, 1], b: ['time', 2, 3] } as const;
  const ranges = { a: { range: [0, 1], unit: 'length' }, b: { range: [2, 3], unit: 'time' } } as const;

  it('all inside: nothing to refuse', () => {
    expect(outsideLimits('x', { a: 0, b: 3 }, limits)).toBeNull();
    expect(outsideRanges('x', ranges, { a: 0, b: 3 })).toBeNull();
  });

  it('the first outside is named', () => {
    const refusal = {
      known: false,
      why: { reason: 'outOfValidity', input: 'x: b', value: 4, range: [2, 3], unit: 'time' },
    };
    expect(outsideLimits('x', { a: 1, b: 4 }, limits)).toEqual(refusal);
    expect(outsideRanges('x', ranges, { a: 1, b: 4 })).toEqual(refusal);
    expect(outsideLimits('x', { a: 2, b: 4 }, limits)).toMatchObject({ why: { input: 'x: a', value: 2 } });
    expect(outsideRanges('x', ranges, { a: 2, b: 4 })).toMatchObject({ why: { input: 'x: a', value: 2 } });
  });

  it('a contradiction is its sentence', () => {
    const why = { reason: 'inconsistent', detail: 'expected a, got b', paths: [] };
    expect(contradiction('expected a, got b')).toEqual({ known: false, why });
    expect(inconsistent('expected a, got b')).toEqual({ known: false, why });
  });
});

describe('a source', () => {
  it('is told with its clause, how far to trust it, and its note', () => {
    const full = { document: 'a standard', clause: 'table 2', trust: 'excerpt', note: 'confirm' } as const;
    expect(sourceLine(full)).toBe('a standard, table 2 (read in an excerpt)');
    expect(sourceWords(full)).toBe('a standard, table 2 (read in an excerpt); confirm');
    expect(sourceWords({ document: 'a book', trust: 'memory' })).toBe('a book (from memory)');
  });

  it('does not say twice that it is common practice', () => {
    expect(sourceLine({ document: 'common practice, no source', trust: 'practice' })).toBe(
      'common practice, no source',
    );
    expect(sourceLine({ document: 'a trade page', trust: 'practice' })).toBe(
      'a trade page (common practice, no source)',
    );
  });

  it('each degree of trust has words of its own', () => {
    expect(trustWords).toEqual({
      excerpt: 'read in an excerpt',
      memory: 'from memory',
      practice: 'common practice, no source',
      own: 'own derivation',
      uncertain: 'uncertain, confirm first',
    });
  });
});
