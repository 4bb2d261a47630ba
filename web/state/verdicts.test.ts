import { expect, it } from 'vitest';
import { createEngine } from '../../shared/rules/engine.ts';
import { rules } from '../../shared/rules/registry.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import { makeSpec } from '../../tests/support/baseSpec.ts';
import { measuredAs } from '../../tests/support/measurements.ts';
import { LocalVerdicts } from './verdicts.ts';

/** The server's verdicts for a spec, with every gap measured as 200 mm. */
function serverVerdicts(spec: Spec) {
  const engine = createEngine({
    rules,
    measured: measuredAs({ point: [0, 0.3, 0], onTube: [0, 0.1, 0], s: 0.1 }),
  });
  engine.evaluate(spec);
  return engine.verdicts();
}

it('shows the server where both have the same facts', () => {
  const spec = makeSpec();
  const local = new LocalVerdicts();
  local.evaluate(spec);
  local.agree();
  const shown = local.merge(serverVerdicts(spec));
  expect(shown.size).toBeGreaterThan(10);
  expect([...shown.values()].every((s) => !s.provisional)).toBe(true);
});

it('answers an edit at once, as provisional, and only where it reads the edit', () => {
  const server = serverVerdicts(makeSpec());
  const local = new LocalVerdicts();
  local.evaluate(makeSpec());
  local.agree();
  local.evaluate(makeSpec({ 'stud.torque': 5 }));
  const shown = local.merge(server);
  expect(shown.get('stud-preload/studs')).toMatchObject({ provisional: true, verdict: { status: 'fail' } });
  expect([...shown.values()].filter((s) => s.provisional && s.verdict.rule.startsWith('runner'))).toEqual([]);
});

it('shows a measured verdict as being checked when the device moved what it was measured from', () => {
  const before = makeSpec();
  const server = serverVerdicts(before);
  const local = new LocalVerdicts();
  local.evaluate(before);
  local.agree();
  local.evaluate({ ...before, runners: makeSpec({ 'runners.r1.nodes.n3.z': 0.3 }).runners });
  expect(local.merge(server).get('bay-clearance/r1~c1')).toMatchObject({
    provisional: true,
    verdict: { status: 'unknown', why: { reason: 'pending' } },
  });
});

it('never shows a verdict of the server for facts this device has cleared', () => {
  const server = serverVerdicts(makeSpec());
  const local = new LocalVerdicts();
  local.evaluate(makeSpec({ 'stud.torque': undefined }));
  expect(local.merge(server).get('stud-preload/studs')).toMatchObject({
    provisional: true,
    verdict: { status: 'unknown', why: { reason: 'missing', paths: ['stud.torque'] } },
  });
});
