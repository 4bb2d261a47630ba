import { describe, expect, it } from 'vitest';
import { defineRule } from '../../shared/rules/define.ts';
import { createEngine } from '../../shared/rules/engine.ts';
import { judge } from '../../shared/rules/outcome.ts';
import type { Subject } from '../../shared/rules/verdict.ts';
import { at } from '../../shared/units/known.ts';
import { makeSpec } from '../support/baseSpec.ts';
import { pendingMeasurements } from '../support/measurements.ts';
import { evaluateRow } from '../support/ruleTable.ts';

const job: readonly Subject[] = [{ kind: 'job', id: 'job', name: 'Job' }];
const row = { name: 'row', subject: 'job' };
const measured = pendingMeasurements;

const meta = {
  gate: 'design',
  title: 'Limit the wall',
  severity: 'block',
  adjustable: false,
  branches: ['tube'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'none',
  source: { document: 'test', trust: 'own' },
  validity: 'test',
  hazard: 'test',
  remedy: 'test',
  messages: {},
  since: 1,
} as const;

const wall = (spec: ReturnType<typeof makeSpec>) => at<number>('tube.wall', spec.tube.wall);
const limit = { limit: { kind: 'max', value: 1 } } as const;

describe('the table tester notices', () => {
  it('a branch that was not declared', () => {
    const rule = defineRule({
      ...meta,
      id: 'undeclared-read',
      subjects: () => job,
      reads: ({ spec }) => ({ wall: wall(spec), mass: at<number>('turbo.mass', spec.turbo.mass) }),
      evaluate: (v) => judge(v.wall, limit),
    });
    // The watched run breaks where the plain run does not: their verdicts differ.
    expect(() => evaluateRow(rule, row)).toThrow('two runs differ');
  });

  it('a rule that writes to what it was given', () => {
    const rule = defineRule({
      ...meta,
      id: 'input-write',
      subjects: () => job,
      reads: ({ spec }) => {
        Object.assign(spec.tube, { wall: 1 });
        return { wall: wall(spec) };
      },
      evaluate: (v) => judge(v.wall, limit),
    });
    expect(() => evaluateRow(rule, row)).toThrow('two runs differ');
  });

  it('a rule that answers differently the second time', () => {
    let count = 0;
    const rule = defineRule({
      ...meta,
      id: 'moody-rule',
      subjects: () => job,
      reads: ({ spec }) => ({ wall: wall(spec) }),
      evaluate: () => judge(count++, limit),
    });
    expect(() => evaluateRow(rule, row)).toThrow('two runs differ');
  });
});

describe('a rule that breaks', () => {
  const broken = (where: 'subjects' | 'reads' | 'evaluate') => {
    const fail = (at: string) => {
      if (at === where) throw new Error(`broke in ${at}`);
    };
    return defineRule({
      ...meta,
      id: `broken-${where}`,
      subjects: () => {
        fail('subjects');
        return job;
      },
      reads: ({ spec }) => {
        fail('reads');
        return { wall: wall(spec) };
      },
      evaluate: (v) => {
        fail('evaluate');
        return judge(v.wall, limit);
      },
    });
  };
  const sound = defineRule({
    ...meta,
    id: 'sound-rule',
    subjects: () => job,
    reads: ({ spec }) => ({ wall: wall(spec) }),
    evaluate: (v) => judge(v.wall, limit),
  });

  it.each(['subjects', 'reads', 'evaluate'] as const)(
    'in %s is unknown by fault, blocks, raises an alarm and leaves the others alone',
    (where) => {
      const alarms: string[] = [];
      const engine = createEngine({
        rules: [broken(where), sound],
        measured,
        alarm: (verdict) => alarms.push(verdict.rule),
      });
      engine.evaluate(makeSpec());
      const verdicts = [...engine.verdicts().values()];
      const fault = verdicts.find((verdict) => verdict.rule === `broken-${where}`);
      expect(fault).toMatchObject({ status: 'unknown', severity: 'block', why: { reason: 'fault' } });
      expect(JSON.stringify(fault)).toContain(`broke in ${where}`);
      expect(alarms).toEqual([`broken-${where}`]);
      expect(verdicts.find((verdict) => verdict.rule === 'sound-rule')?.status).toBe('pass');
      engine.evaluate(makeSpec({ 'tube.wall': 0.003 }));
      expect(engine.verdicts().get('sound-rule/job')).toMatchObject({ measured: 0.003 });
    },
  );
});
