import { describe, expect, it } from 'vitest';
import type { Outcome } from './outcome.ts';
import { judge } from './outcome.ts';
import { verdictWords } from './words.ts';

const length = { quantity: 'length', messages: { gap: 'Gap {gap} at {share:share} of {name}.' } } as const;
const stress = { quantity: 'stress', messages: {} } as const;
const temperature = { quantity: 'temperature', messages: {} } as const;
const min = { limit: { kind: 'min', value: 0.006 } } as const;
const max = { limit: { kind: 'max', value: 100e6 } } as const;
const range = { limit: { kind: 'range', low: 0.5, high: 0.75 } } as const;
const share = { quantity: 'share', messages: {} } as const;

describe('labels', () => {
  it.each([
    ['pass', judge(0.0092, min), length, 'PASS, spare 3.20 mm', 'within'],
    ['close', judge(0.0061, { ...min, guard: 0.0005 }), length, 'CLOSE, spare 0.10 mm', 'near'],
    ['short of a least value', judge(0.0052, min), length, 'FAIL, short by 0.80 mm', 'outside'],
    ['over a greatest value', judge(112e6, max), stress, 'FAIL, over by 12.0 MPa', 'outside'],
    [
      'caution above',
      judge(90e6, { ...max, advisory: { kind: 'max', value: 80e6 } }),
      stress,
      'CAUTION, over by 10.0 MPa',
      'caution',
    ],
    [
      'caution below',
      judge(0.007, { ...min, advisory: { kind: 'min', value: 0.008 } }),
      length,
      'CAUTION, short by 1.00 mm',
      'caution',
    ],
    ['below a range', judge(0.41, range), share, 'FAIL, short by 9.0 %', 'outside'],
    ['above a range', judge(0.8, range), share, 'FAIL, over by 5.0 %', 'outside'],
    ['a miss too small to show', judge(0.006 - 1e-9, min), length, 'FAIL, short by less than 0.01 mm', 'outside'],
    ['a spare too small to show', judge(0.006 + 1e-9, min), length, 'CLOSE, spare less than 0.01 mm', 'near'],
    ['exactly at the limit', judge(0.006, min), length, 'CLOSE, spare 0.00 mm', 'near'],
  ] as const)('%s', (_name, outcome, meta, label, mark) => {
    expect(verdictWords(outcome, meta)).toMatchObject({ label, mark });
  });

  it('a margin of temperatures is a difference, not a temperature', () => {
    const words = verdictWords(judge(1000, { limit: { kind: 'max', value: 1073.15 } }), temperature);
    expect(words).toMatchObject({
      label: 'PASS, spare 73 C',
      measured: '727 C',
      limit: 'at most 800 C',
      margin: '73 C',
    });
  });
});

describe('numbers', () => {
  it('shows measured, limit and signed margin with units', () => {
    expect(verdictWords(judge(0.0052, min), length)).toMatchObject({
      measured: '5.20 mm',
      limit: 'at least 6.00 mm',
      margin: '-0.80 mm',
    });
    expect(verdictWords(judge(0.6, range), share)).toMatchObject({
      measured: '60.0 %',
      limit: '50.0 % to 75.0 %',
      margin: '10.0 %',
    });
  });

  it('fills the message in the rule quantity, in a named one, and with words', () => {
    const outcome = judge(0.0052, { ...min, message: 'gap', data: { gap: 0.0052, share: 0.25, name: 'Runner 1' } });
    expect(verdictWords(outcome, length).message).toBe('Gap 5.20 mm at 25.0 % of Runner 1.');
  });

  it('leaves a placeholder without data visible, and says nothing without a message', () => {
    expect(verdictWords(judge(0.0052, { ...min, message: 'gap', data: {} }), length).message).toBe(
      'Gap {gap} at {share:share} of {name}.',
    );
    expect(verdictWords(judge(0.0052, min), length).message).toBe('');
    expect(verdictWords(judge(0.0052, { ...min, message: 'other' }), length).message).toBe('');
  });
});

describe('no value', () => {
  const say = (outcome: Outcome) => verdictWords(outcome, length);

  it('names the field that is missing, and counts the rest', () => {
    const one = say({ status: 'unknown', why: { reason: 'missing', paths: ['tube.wall'] } });
    expect(one).toMatchObject({
      label: 'NO DATA: needs Runner wall',
      mark: 'unknown',
      why: 'needs Runner wall',
      measured: '',
      message: '',
    });
    const paths = ['tube.wall', 'runners.r1.nodes.n2.x', 'runners.r1.nodes.n3.x', 'no.such.path'];
    const more = say({ status: 'unknown', why: { reason: 'missing', paths } });
    expect(more.label).toBe('NO DATA: needs Runner wall and 2 more');
    expect(more.why).toBe('needs Runner wall, X, no.such.path');
  });

  it('says a field when no path is named', () => {
    expect(say({ status: 'unknown', why: { reason: 'missing', paths: [] } }).label).toBe('NO DATA: needs a field');
  });

  it('names a field once however often it is missing', () => {
    const paths = ['runners.r1.nodes.n2.x', 'runners.r2.nodes.n2.x'];
    expect(say({ status: 'unknown', why: { reason: 'missing', paths } })).toMatchObject({
      label: 'NO DATA: needs X',
      why: 'needs X',
    });
  });

  it('says CHECKING while a measurement is made', () => {
    const why = { reason: 'pending', job: 'ab' } as const;
    expect(say({ status: 'unknown', why })).toMatchObject({
      ...{ label: 'CHECKING', mark: 'pending', why: 'a measurement is being made' },
      ...{ measured: '', limit: '', margin: '', message: '' },
    });
  });

  it('says what was expected and what came, in display units', () => {
    const why = {
      reason: 'outOfValidity',
      input: 'wall at the joint',
      value: 0.004,
      range: [0.001, 0.003],
      unit: 'length',
    } as const;
    expect(say({ status: 'unknown', why })).toMatchObject({
      label: 'NO DATA: outside validity',
      mark: 'unknown',
      why: 'wall at the joint: expected 1.00 mm to 3.00 mm, got 4.00 mm',
    });
    const odd = { ...why, unit: 'furlong' };
    expect(say({ status: 'unknown', why: odd }).why).toBe(
      'wall at the joint: expected 0.001 furlong to 0.003 furlong, got 0.004 furlong',
    );
  });

  it('hands on what disagrees, what broke and what does not apply', () => {
    const inconsistent = { reason: 'inconsistent', detail: 'expected a, got b', paths: [] } as const;
    expect(say({ status: 'unknown', why: inconsistent })).toMatchObject({
      label: 'NO DATA: inputs disagree',
      why: 'expected a, got b',
    });
    const fault = { reason: 'fault', detail: 'rule x: Error' } as const;
    expect(say({ status: 'unknown', why: fault })).toMatchObject({
      label: 'NO DATA: rule fault',
      mark: 'unknown',
      why: 'rule x: Error',
    });
    expect(say({ status: 'notApplicable', because: 'no bend' })).toMatchObject({
      label: 'N/A',
      mark: 'none',
      why: 'no bend',
      measured: '',
    });
  });

  it('a value that is not finite is no data', () => {
    expect(say(judge(Number.NaN, min))).toMatchObject({ label: 'NO DATA: inputs disagree', mark: 'unknown' });
  });
});

describe('what the job brought itself', () => {
  const outcome = judge(0.0052, min);

  it('is nothing where nothing was', () => {
    expect(verdictWords(outcome, length)).toMatchObject({ jobLimit: '', ownMaterial: '' });
  });

  it.each([
    [min.limit, length, 'limit set by this job: tight bay; default at least 6.00 mm'],
    [{ kind: 'max', value: 0.1 }, share, 'limit set by this job: tight bay; default at most 10.0 %'],
    [range.limit, share, 'limit set by this job: tight bay; default 50.0 % to 75.0 %'],
  ] as const)('a limit names its reason and the default', (was, meta, words) => {
    expect(verdictWords({ ...outcome, override: { reason: 'tight bay', was } }, meta).jobLimit).toBe(words);
  });

  it('a material names its source and reason, whatever the verdict', () => {
    const grounds = [
      { path: 'materials.a', name: 'Lot 7', source: 'report 12 (own derivation)', reason: 'printed here' },
    ];
    const words = 'own material Lot 7: report 12 (own derivation); used because: printed here';
    expect(verdictWords({ ...outcome, grounds }, length).ownMaterial).toBe(words);
    const unknown = { status: 'unknown', why: { reason: 'missing', paths: ['tube.wall'] } } as const;
    expect(verdictWords({ ...unknown, grounds }, length)).toMatchObject({ ownMaterial: words, mark: 'unknown' });
  });
});
