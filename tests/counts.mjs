// How the parts of a test run are counted. A part that says nothing, or ends badly without a failure of its own, is a failure.

/** Counts of vitest's JSON report; null is a report that was never written. */
export function unitSummary(report, code) {
  if (!report) return { passed: 0, failed: 1 };
  // A file that does not load has no tests of its own to fail.
  const unloaded = report.testResults.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((one) => one.status === 'failed'),
  );
  const failed = report.numFailedTests + unloaded.length;
  const silent = (code !== 0 && failed === 0) || report.numPassedTests + failed === 0;
  return { passed: report.numPassedTests, failed: failed + (silent ? 1 : 0) };
}

/** Counts of the browser run: its last line that is `{"passed":n,"failed":n}`. */
export function browserSummary(text, code) {
  const counts = text
    .split('\n')
    .map(readCounts)
    .findLast((one) => one !== null);
  if (!counts || counts.passed + counts.failed === 0) return { passed: counts?.passed ?? 0, failed: 1 };
  return { passed: counts.passed, failed: counts.failed + (code !== 0 && counts.failed === 0 ? 1 : 0) };
}

function readCounts(line) {
  try {
    const { passed, failed } = JSON.parse(line);
    return Number.isInteger(passed) && Number.isInteger(failed) ? { passed, failed } : null;
  } catch {
    return null;
  }
}

/** Sum of all parts. */
export function total(results) {
  return results.reduce((sum, one) => ({ passed: sum.passed + one.passed, failed: sum.failed + one.failed }), {
    passed: 0,
    failed: 0,
  });
}
