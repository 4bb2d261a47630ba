import { describe, expect, it } from 'vitest';
import { policies } from './policies.ts';

const spec = (key: string, after: unknown, before?: unknown) => policies.spec.allow({ key, before, after }, 'ann');

describe('what a spec document takes', () => {
  it.each<[string, unknown]>([
    ['stud.torque', 20],
    ['stud.torque', { si: 20, as: '20 Nm' }],
    ['stud.torque', undefined],
    ['project.title', 'A title'],
    ['runners.r1', 1],
    ['runners.r1.nodes.n2', 2.5],
    ['runners.r1.nodes.n2.x', -0.1],
    ['ticks.design.route-agreed', { done: true, note: '', by: 'ann' }],
    ['ticks.design.route-agreed', undefined],
  ])('%s: %j', (key, value) => {
    expect(spec(key, value)).toBeNull();
  });

  it.each<[string, unknown]>([
    ['nothing', 1],
    ['stud.nothing', 1],
    ['stud.torque.more', 1],
    ['__proto__.torque', 1],
    ['stud.torque', Number.NaN],
    ['stud.torque', Number.POSITIVE_INFINITY],
    ['stud.torque', true],
    ['stud.torque', null],
    ['stud.torque', [20]],
    ['stud.torque', { si: 20 }],
    ['stud.torque', { si: Number.NaN, as: '' }],
    ['stud.torque', { si: 20, as: 'x'.repeat(101) }],
    ['stud.torque', { si: 20, as: '', more: 'x'.repeat(50_000) }],
    ['project.title', 'x'.repeat(1001)],
    ['runners.r1', 'first'],
    ['runners.r1', { order: 1 }],
    ['ticks.design.route-agreed', { done: true, note: '', by: 'bob' }],
    ['ticks.design.route-agreed', { done: true, note: 'x'.repeat(1001), by: 'ann' }],
    ['ticks.design.route-agreed', { done: true, note: '', by: 'ann', more: 'x'.repeat(20_000) }],
    ['ticks.design.route-agreed', true],
  ])('not %s: %j', (key, value) => {
    expect(spec(key, value)).toEqual(expect.any(String));
  });
});

describe('what a markup document takes', () => {
  const markup = (key: string, after: unknown, before?: unknown) =>
    policies.markup.allow({ key, before, after }, 'ann');
  const thread = { by: 'ann', anchor: { kind: 'place', at: [0, 0, 0] }, n: 1 };
  it('takes own threads and comments, no others', () => {
    expect(markup('t.a', thread)).toBeNull();
    expect(markup('t.a.c.1', { by: 'ann', text: 'here' })).toBeNull();
    expect(markup('t.a.c.1', { by: 'bob', text: 'here' })).toEqual(expect.any(String));
    expect(markup('t.a.c.1', undefined, { by: 'bob', text: 'here' })).toEqual(expect.any(String));
    expect(markup('t.a', { ...thread, more: 'x'.repeat(20_000) })).toEqual(expect.any(String));
    expect(markup('stud.torque', 1)).toEqual(expect.any(String));
  });
});
