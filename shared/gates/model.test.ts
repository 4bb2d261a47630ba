import { isDeepStrictEqual } from 'node:util';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { seededRandom } from '../geometry/random.ts';
import type { Rule } from '../rules/define.ts';
import { blocks, type Verdict } from '../rules/verdict.ts';
import { addElement, removeElement, setField, setTick, userOrigin } from '../spec/commands.ts';
import type { CoveredFacts, FactValue } from '../spec/covered.ts';
import type { GateId } from '../spec/gateId.ts';
import { createSpecReader, SPEC_ROOT } from '../spec/reader.ts';
import type { Branch } from '../spec/spec.ts';
import { at } from '../units/known.ts';
import { type Coverage, gateFacts, keptCoverage } from './coverage.ts';
import { type Gate, gateRow, gates } from './gates.ts';
import { freshVerdicts, type InventedReading, inventedRule, inventedSignature, undecided } from './invent.ts';
import { maySign } from './maySign.ts';
import { type GateView, gateViews, type Signature } from './readiness.ts';
import type { Role } from './roles.ts';

const rule = (gate: GateId, branch: Branch, read: InventedReading): Rule =>
  inventedRule({ id: `${gate}-limit`, gate, branches: [branch] }, read);
const rules: readonly Rule[] = [
  rule('scan', 'head', (s) => ({ job: at('head.expansion', s.head.expansion) })),
  rule('design', 'engine', (s) => ({ job: at('engine.lambda', s.engine.lambda) })),
  rule('weld', 'joints', (s) => Object.fromEntries(s.joints.map((j) => [j.id, at(`joints.${j.id}.wall`, j.wall)]))),
  rule('install', 'turbo', (s) => ({ job: at('turbo.unsupportedShare', s.turbo.unsupportedShare) })),
];
const basis = { plan: undecided.plan, conceded: [] };
const inForce = new Set(rules.map((r) => r.gate));

const people: Readonly<Record<string, readonly Role[]>> = {
  ann: ['designer', 'lead', 'scanner'],
  bob: ['lead', 'welder', 'scanner'],
  cid: ['designer', 'welder', 'reviewer'],
};

class World {
  readonly doc = new Y.Doc();
  readonly reader = createSpecReader(this.doc);
  readonly undo = new Y.UndoManager(this.doc.getMap(SPEC_ROOT), {
    trackedOrigins: new Set([userOrigin]),
    captureTimeout: 0,
  });
  readonly signatures: Signature[] = [];
  readonly random: () => number;
  readonly coverage = new Map<number, Coverage>();
  ruleSet = 1;

  constructor(seed: number) {
    this.random = seededRandom(seed);
    // What hold items ask to be measured.
    for (const path of ['turbo.mass', 'retorque.torque']) setField(this.doc, path, 6, { kind: 'import' });
  }

  pick<T>(list: readonly T[]): T {
    const place = Math.floor(this.random() * list.length);
    for (const [i, one] of list.entries()) if (i === place) return one;
    throw new Error('nothing to pick from');
  }

  verdicts(): readonly Verdict[] {
    return freshVerdicts(this.reader.current(), rules);
  }

  views(): readonly GateView[] {
    const { ruleSet, signatures } = this;
    const inputs = { spec: this.reader.current(), verdicts: this.verdicts(), rules, ruleSet, signatures, ...undecided };
    const covered = this.coverage.get(ruleSet) ?? keptCoverage(rules, ruleSet);
    this.coverage.set(ruleSet, covered);
    const views = gateViews(inputs);
    // What is kept between views must never show: a gate that reads signed for facts that moved is the worst there is.
    expect(gateViews({ ...inputs, covered })).toEqual(views);
    return views;
  }

  edit(): void {
    const dice = this.random();
    const value = this.pick([0.9, 0.95, 1.2, Number.NaN]);
    if (dice < 0.15) setField(this.doc, 'engine.lambda', value);
    else if (dice < 0.25) setField(this.doc, 'turbo.unsupportedShare', this.pick([0.4, 0.5]));
    else if (dice < 0.32) setField(this.doc, 'head.expansion', this.pick([22e-6, 23e-6]));
    else if (dice < 0.4) setField(this.doc, 'tube.wall', this.pick([0.001, 0.002]));
    else if (dice < 0.46) setField(this.doc, 'engine.lambda', null);
    else if (dice < 0.56) this.joint();
    else this.tick(this.random() < 0.9);
  }

  private joint(): void {
    const id = this.pick(['j1', 'j2']);
    const there = this.reader.current().joints.some((j) => j.id === id);
    if (there && this.random() < 0.3) removeElement(this.doc, `joints.${id}`);
    else if (there) setField(this.doc, `joints.${id}.wall`, this.pick([0.001, 0.002]));
    else addElement(this.doc, 'joints', { id, order: 1, values: { wall: 0.002 } });
  }

  private tick(done: boolean): void {
    const gate = this.pick(gates.filter((g) => inForce.has(g.id)));
    for (const item of gate.items) {
      if (this.random() < 0.7)
        setTick(this.doc, gate.id, item.id, { done, note: '', by: this.pick(Object.keys(people)) });
    }
  }

  /** Somebody wishes to sign; the record takes it when `maySign` allows, as the server does. */
  sign(view: GateView): { readonly ok: boolean; readonly code?: string } {
    const account = this.pick(Object.keys(people));
    const held = people[account] ?? [];
    const role = this.pick([...gateRow(view.gate).signs, ...held]);
    const answer = maySign(view, { digest: view.digest, role, account, held });
    if (!answer.ok) return answer;
    const signer = { id: `s${this.signatures.length}`, role, account, ruleSet: this.ruleSet };
    const signed = inventedSignature(view.gate, { spec: this.reader.current(), rules }, signer);
    expect(signed.digest).toBe(view.digest);
    this.signatures.push(signed);
    return answer;
  }
}

/** The test's own idea of what moved, written without the code under test. */
function moved(
  before: CoveredFacts,
  after: CoveredFacts,
): Map<string, readonly [FactValue | undefined, FactValue | undefined]> {
  const out = new Map<string, readonly [FactValue | undefined, FactValue | undefined]>();
  for (const [path, value] of Object.entries(before)) if (after[path] !== value) out.set(path, [value, after[path]]);
  for (const [path, value] of Object.entries(after)) if (!(path in before)) out.set(path, [undefined, value]);
  return out;
}

function speaksOfNow(world: World, signature: Signature): boolean {
  const now = gateFacts(signature.gate, world.reader.current(), rules, basis);
  return signature.ruleSet === world.ruleSet && isDeepStrictEqual({ ...signature.facts }, { ...now });
}

function lastWords(world: World, gate: Gate): readonly Signature[] {
  return gate.signs.flatMap((role) => world.signatures.findLast((s) => s.gate === gate.id && s.role === role) ?? []);
}

function checkSigned(world: World, gate: Gate, views: readonly GateView[]): void {
  const last = lastWords(world, gate);
  expect(last.map((s) => s.role)).toEqual([...gate.signs]);
  expect(last.every((s) => speaksOfNow(world, s))).toBe(true);
  expect(new Set(last.map((s) => s.account)).size).toBe(gate.signs.length);
  expect(world.verdicts().filter((v) => v.gate === gate.id && blocks(v))).toEqual([]);
  const { ticks } = world.reader.current();
  for (const item of gate.items) if (item.point === 'hold') expect(ticks[`${gate.id}.${item.id}`]?.done).toBe(true);
  // In this rule set the gates in force stand in one line, so all of them that come before have to be signed.
  const before = views
    .slice(
      0,
      views.findIndex((v) => v.gate === gate.id),
    )
    .filter((v) => inForce.has(v.gate));
  for (const view of before) expect(view.state.state).toBe('signed');
}

function checkView(world: World, view: GateView, views: readonly GateView[]): void {
  const gate = gateRow(view.gate);
  const { state } = view;
  if (!inForce.has(view.gate)) return expect(state).toEqual({ state: 'not-in-force' });
  if (state.state === 'not-in-force') throw new Error(`${view.gate} is in force`);
  const last = lastWords(world, gate);
  const currentIds = last.filter((s) => speaksOfNow(world, s)).map((s) => s.id);
  expect(state.current.map((s) => s.id).sort()).toEqual(currentIds.sort());
  const stale = last.filter((s) => !speaksOfNow(world, s));
  const upstream = state.state === 'stale' ? state.upstream : [];
  const wholly = currentIds.length === gate.signs.length;
  expect(state.state === 'stale').toBe(stale.length > 0 || (wholly && upstream.length > 0));
  for (const id of upstream) expect(views.find((v) => v.gate === id)?.state.state).not.toBe('signed');
  if (state.state === 'signed') checkSigned(world, gate, views);
  if (state.state !== 'stale') return;
  expect(state.stale.map((s) => s.signature.id).sort()).toEqual(stale.map((s) => s.id).sort());
  const now = gateFacts(gate.id, world.reader.current(), rules, basis);
  for (const { signature, because } of state.stale) {
    const facts = world.signatures.find((s) => s.id === signature.id)?.facts ?? {};
    expect(new Map(because.map((c) => [c.path, [c.before, c.after] as const]))).toEqual(moved(facts, now));
  }
}

const STEPS = 700;

describe.each([3, 4, 20261125])('random edits, ticks, signatures and undos, seed %d', (seed) => {
  it(`the standing of every gate is right after each of ${STEPS} steps`, () => {
    const world = new World(seed);
    const seen = new Map<string, number>();
    const count = (what: string): void => void seen.set(what, (seen.get(what) ?? 0) + 1);
    for (let step = 0; step < STEPS; step++) {
      const dice = world.random();
      if (dice < 0.3) world.edit();
      else if (dice < 0.4 && world.undo.undoStack.length > 0) world.undo.undo();
      else if (dice < 0.41) world.ruleSet = 3 - world.ruleSet;
      else {
        for (const view of world.views()) {
          const answer = world.sign(view);
          if (!inForce.has(view.gate)) expect(answer.ok).toBe(false);
          count(answer.ok ? 'taken' : String(answer.code));
        }
      }
      const views = world.views();
      for (const view of views) {
        checkView(world, view, views);
        count(`${view.gate} ${view.state.state}`);
      }
    }
    // The walk must have met every state and every refusal, or it proves nothing.
    for (const state of ['open', 'ready', 'signed', 'stale']) expect([...seen.keys()]).toContain(`design ${state}`);
    expect([...seen.keys()]).toContain('weld signed');
    for (const what of ['taken', 'not-ready', 'wrong-role', 'already-signed', 'same-person'])
      expect([...seen.keys()]).toContain(what);
  });

  it('an undo brings back the standing there was', () => {
    const world = new World(seed + 100);
    let differed = 0;
    for (let step = 0; step < 300; step++) {
      world.edit();
      for (const view of world.views()) world.sign(view);
      const before = world.views();
      const depth = world.undo.undoStack.length;
      world.edit();
      if (!isDeepStrictEqual(world.views(), before)) differed += 1;
      while (world.undo.undoStack.length > depth) world.undo.undo();
      expect(world.views()).toEqual(before);
    }
    expect(differed).toBeGreaterThan(50);
  });

  it('facts that moved after they were looked at cannot be signed', () => {
    const world = new World(seed + 200);
    let refused = 0;
    for (let step = 0; step < 200; step++) {
      const looked = world.views();
      world.edit();
      for (const view of world.views()) {
        const seen = looked.find((v) => v.gate === view.gate);
        if (!seen || seen.digest === view.digest) continue;
        for (const role of gateRow(view.gate).signs) {
          expect(maySign(view, { digest: seen.digest, role, account: 'eve', held: [role] })).toMatchObject({
            code: 'facts-moved',
          });
          refused += 1;
        }
      }
    }
    expect(refused).toBeGreaterThan(50);
  });
});
