import { gates } from '../../shared/gates/gates.ts';
import { defaultPlan } from '../../shared/gates/plan.ts';
import { punchList } from '../../shared/gates/punchList.ts';
import type { GateView, Signature } from '../../shared/gates/readiness.ts';
import type { PaperFacts } from '../../shared/papers/facts.ts';
import { paperLink } from '../../shared/protocol/papers.ts';
import { createEngine } from '../../shared/rules/engine.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import { blocks } from '../../shared/rules/verdict.ts';
import { unknown } from '../../shared/units/known.ts';
import { makeSpec } from './baseSpec.ts';

/** Names as nobody means them: a formula, right-to-left, pictures, and as long as a note can be. */
export const hostileNames = [
  '=1+2',
  '+44 7',
  '-cmd',
  '@sum',
  'שלום עולם',
  '\u202eevil\u202c',
  'Łukasz Őry 🏁',
  'a'.repeat(400),
] as const;

/** Sixty joints, each with everything stated. */
export function manyJoints(count: number): Readonly<Record<string, unknown>> {
  const out: Record<string, unknown> = {};
  for (let i = 1; i <= count; i++) {
    const path = `joints.z${i}`;
    Object.assign(out, {
      [path]: i,
      [`${path}.name`]: `Joint number ${i}`,
      [`${path}.turn`]: i,
      [`${path}.wall`]: 0.0016,
      [`${path}.current`]: 55,
      [`${path}.voltage`]: 10,
      [`${path}.travelSpeed`]: 0.001,
    });
  }
  return out;
}

const digestOf = (i: number): string => i.toString(16).padStart(2, '0').repeat(32);

/** A signature with nothing behind it. */
function signed(gate: (typeof gates)[number], i: number, name: string): Omit<Signature, 'facts'> {
  const role = gate.signs[0] ?? 'lead';
  const at = '2026-03-01T09:30:00.000Z';
  const digest = digestOf(i);
  const rest = { meaning: 'released', ruleSet: RULE_SET, digest, hash: digestOf(i + 99) };
  return { id: `s${i}`, gate: gate.id, account: 'a1', name, role, at, ...rest };
}

/** Facts of a job for papers: each gate in another state, all verdicts of the base spec with some entries replaced. */
export function paperFacts(
  overrides: Readonly<Record<string, unknown>> = {},
  more: Partial<PaperFacts> = {},
): PaperFacts {
  const spec = makeSpec(overrides);
  const engine = createEngine({ rules, measured: { measure: () => unknown({ reason: 'pending', job: 'none' }) } });
  engine.evaluate(spec);
  const verdicts = [...engine.verdicts().values()];
  const views = gates.map((gate, i): GateView => {
    const held = verdicts.filter((v) => v.gate === gate.id && blocks(v));
    const blockers = [
      ...held.map(
        ({ key, status }) => ({ kind: 'rule', verdict: key, status: status === 'fail' ? 'fail' : 'unknown' }) as const,
      ),
      ...gate.items.map(({ id, text }) => ({ kind: 'item', item: id, text }) as const),
    ];
    const name = more.names?.a1 ?? 'Shop lead';
    const asked = { point: 'hold', signs: gate.signs, twoPeople: true, concessions: [] } as const;
    const view = { gate: gate.id, digest: digestOf(i), ...asked };
    if (i === 0) return { ...view, state: { state: 'signed', current: [signed(gate, i, name)] } };
    if (i === 1) return { ...view, state: { state: 'ready', current: [], awaiting: gate.signs } };
    const stale = [{ signature: signed(gate, 77, name), because: [] }];
    if (i === 2) return { ...view, state: { state: 'stale', stale, current: [], blockers, upstream: [] } };
    return { ...view, state: { state: 'open', current: [], blockers } };
  });
  const project = { id: 'AAAAAAAAAAAAAAAAAAAAAA', name: 'Test job' };
  const origin = 'https://shop.example:8443';
  return {
    ...{ project, spec, verdicts, gates: views, ruleSet: RULE_SET, seq: 41 },
    printed: '2026-03-02T08:05:00.000Z',
    revision: { letter: 'B', seq: 41 },
    head: '0123 4567 89ab cdef 0123 4567 89ab cdef',
    plan: gates.map(({ id, title, caution, signs, items }) => ({ gate: id, title, caution, signs, items })),
    names: { a1: 'Shop lead' },
    threads: [],
    concessions: [],
    signatures: [],
    punch: punchList({ views, verdicts, plan: defaultPlan, concessions: [], threads: more.threads ?? [] }),
    links: Object.fromEntries(
      views.map(({ gate, digest }) => [gate, paperLink(origin, { project: project.id, gate, digest })]),
    ),
    ...more,
  };
}
