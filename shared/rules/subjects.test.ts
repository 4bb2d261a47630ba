import { describe, expect, it } from 'vitest';
import { readSpec } from '../spec/reader.ts';
import { inMicrometres } from './micrometres.ts';
import { findRule, rules } from './registry.ts';
import { componentSubjects, nameOf, runnerSubjects } from './subjects.ts';
import { blocks, type Verdict } from './verdict.ts';

const spec = readSpec(
  new Map<string, unknown>([
    ['runners.a', 1],
    ['runners.a.name', 'Front'],
    ['runners.b', 2],
    ['components.c', 1],
    ['components.c.name', 'Loom'],
    ['components.d', 2],
  ]),
);

describe('subjects', () => {
  it('are the runners, each with its row, by name or id', () => {
    expect(runnerSubjects(spec)).toEqual([
      { kind: 'runner', id: 'a', name: 'Front', runner: spec.runners[0] },
      { kind: 'runner', id: 'b', name: 'b', runner: spec.runners[1] },
    ]);
  });

  it('are the bay components, each with its row, by name or id', () => {
    expect(componentSubjects(spec)).toEqual([
      { kind: 'component', id: 'c', name: 'Loom', component: spec.components[0] },
      { kind: 'component', id: 'd', name: 'd', component: spec.components[1] },
    ]);
  });

  it('an empty name is a name', () => {
    expect(nameOf({ id: 'x', name: '' })).toBe('');
  });
});

describe('blocks', () => {
  const verdict = (severity: Verdict['severity'], status: Verdict['status']): Verdict => {
    const stamp = {
      key: 'r/s',
      rule: 'r',
      gate: 'design',
      severity,
      digest: '',
      subject: { kind: 'job', id: 's', name: 's' },
    };
    const judged = { measured: 1, limit: { kind: 'max', value: 1 }, margin: 0 } as const;
    const made: unknown =
      status === 'unknown'
        ? { status, why: { reason: 'pending', job: 'j' }, ...stamp }
        : { status, close: false, ...judged, ...stamp };
    return made as Verdict;
  };

  it.each([
    ['block', 'fail', true],
    ['block', 'unknown', true],
    ['block', 'pass', false],
    ['block', 'caution', false],
    ['block', 'notApplicable', false],
    ['advise', 'caution', false],
    ['advise', 'fail', false],
    ['advise', 'unknown', false],
  ] as const)('%s and %s: %s', (severity, status, shut) => {
    expect(blocks(verdict(severity, status))).toBe(shut);
  });
});

describe('micrometres', () => {
  it.each([
    [58e-6, '58.0 um'],
    [-3e-6, '-3.0 um'],
    [0, '0.0 um'],
  ])('%f m reads %s', (length, text) => {
    expect(inMicrometres(length)).toBe(text);
  });
});

describe('findRule', () => {
  it('finds every rule by its id, and nothing else', () => {
    for (const rule of rules) expect(findRule(rule.id)).toBe(rule);
    expect(findRule('no-such-rule')).toBeNull();
    expect(findRule('')).toBeNull();
  });
});
