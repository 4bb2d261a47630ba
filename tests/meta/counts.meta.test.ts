import { describe, expect, it } from 'vitest';
// @ts-expect-error plain JavaScript, because the run itself has nothing but Node to start with
import { browserSummary, total, unitSummary } from '../counts.mjs';

const file = (status: string, ...tests: readonly string[]) => ({
  status,
  assertionResults: tests.map((one) => ({ status: one })),
});
const report = (passed: number, failed: number, ...files: readonly object[]) => ({
  numPassedTests: passed,
  numFailedTests: failed,
  testResults: files,
});

describe('the count of a test run', () => {
  it.each([
    ['all well', report(3, 0, file('passed', 'passed')), 0, { passed: 3, failed: 0 }],
    ['a failed test', report(2, 1, file('failed', 'failed')), 1, { passed: 2, failed: 1 }],
    ['a file that does not load', report(2, 0, file('failed')), 1, { passed: 2, failed: 1 }],
    ['a bad end without a failure', report(2, 0, file('passed', 'passed')), 1, { passed: 2, failed: 1 }],
    ['nothing ran', report(0, 0), 0, { passed: 0, failed: 1 }],
    ['no report', null, 0, { passed: 0, failed: 1 }],
  ])('of unit tests: %s', (_, given, code, expected) => {
    expect(unitSummary(given, code)).toEqual(expected);
  });

  it.each([
    ['all well', 'ok one\n{"passed":4,"failed":0}\n', 0, { passed: 4, failed: 0 }],
    ['two failed', '{"passed":4,"failed":2}\n', 1, { passed: 4, failed: 2 }],
    ['the last line counts', '{"passed":9,"failed":0}\n{"passed":4,"failed":0}', 0, { passed: 4, failed: 0 }],
    ['a bad end after a good count', '{"passed":4,"failed":0}', 1, { passed: 4, failed: 1 }],
    ['nothing ran', '{"passed":0,"failed":0}', 0, { passed: 0, failed: 1 }],
    ['no line', 'ok one\nnull\n{"passed":"4"}\n', 0, { passed: 0, failed: 1 }],
  ])('of browser tests: %s', (_, text, code, expected) => {
    expect(browserSummary(text, code)).toEqual(expected);
  });

  it('adds up', () => {
    expect(
      total([
        { passed: 1, failed: 2 },
        { passed: 3, failed: 4 },
      ]),
    ).toEqual({ passed: 4, failed: 6 });
  });
});
