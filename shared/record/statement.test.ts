import { describe, expect, it } from 'vitest';
import { gateDigest } from '../gates/coverage.ts';
import { defaultPlan, planDigest } from '../gates/plan.ts';
import { planFrom } from '../protocol/plan.ts';
import { decidedBy } from './decided.ts';
import {
  CHAIN_START,
  type ConcessionRow,
  digestHolds,
  type PlanRow,
  readCanonical,
  readStatement,
  rowHash,
  type Statement,
  statementText,
} from './statement.ts';
import { recordStart, verifyRow } from './verifyRows.ts';

/** A row as it was written before there was anything but signatures. It must never be written anew: old records are full of such rows. */
const frozen = {
  seq: 1,
  statement:
    '{"at":"2026-02-02T02:40:01.000Z","digest":"d779508e484ca8d88db21adde557c95e4dccb87f7eb0d78f472d7715a06d9d0c","facts":{"stud.torque":18.142857142857142,"ticks.scan.all.note":"\\"Naht\\" 1 geprüft","tube.alloy":"625"},"files":[],"gate":"design","meaning":"released","nonce":"nonce-1","previous":"0000000000000000000000000000000000000000000000000000000000000000","project":"p","ruleSet":3,"signer":{"account":"account-1","confirmedBy":"password","name":"Name of ann","role":"lead"},"units":{"stud.torque":"N·m"},"verdicts":[{"digest":"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa","key":"stud-torque/s1","status":"pass"}],"version":1}',
  hash: '8a03a1610855ff3135d643ed382572a9a4d01048c855871d5a54e652e8350093',
};

const start = (previous: string) => ({
  ...({ version: 2, project: 'p', at: '2026-03-01T00:00:00.000Z', nonce: 'n', previous } as const),
  signer: { account: 'a1', name: 'Lee', role: 'lead', confirmedBy: 'password' } as const,
});
const plan = (previous: string): PlanRow => ({
  ...start(previous),
  ...{ kind: 'plan', reason: 'one lead is enough here', replaces: null },
  plan: defaultPlan.map((row) => ({
    ...row,
    signs: row.gate === 'design' ? (['lead'] as const).slice() : [...row.signs],
    items: row.items.map((item) => ({ ...item })),
  })),
});
const concession = (previous: string): ConcessionRow => ({
  ...start(previous),
  ...{ kind: 'concession', id: 'c1', verdict: 'bend-tightness/r1', seen: '0'.repeat(16), gate: 'design' },
  ...{ title: 'Limit a bend', quantity: 'ratio', value: 1.4, unit: '1', ruleSet: 3 },
  ...{ limit: { kind: 'min', value: 1.5 }, reason: 'bent and looked at', expires: null },
});
const ended = (previous: string, granted: string): Statement => ({
  ...start(previous),
  ...{ kind: 'concession-ended', id: 'c1', concession: granted, reason: 'bent anew, wider' },
});

/** Frozen row, then one of each other kind on top of it. */
function chain() {
  const rows = [frozen];
  const add = (make: (previous: string) => Statement): string => {
    const previous = rows.at(-1)?.hash ?? CHAIN_START;
    const statement = statementText(make(previous));
    const hash = rowHash(previous, statement);
    rows.push({ seq: rows.length + 1, statement, hash });
    return hash;
  };
  add(plan);
  const granted = add(concession);
  add((previous) => ended(previous, granted));
  return rows;
}

const verified = (rows: readonly (typeof frozen)[]) =>
  rows.reduce(
    (reached, _, index) => (reached.ok ? verifyRow({ project: 'p', rows, index }, reached) : reached),
    recordStart as ReturnType<typeof verifyRow>,
  );

const decided = (rows: readonly (typeof frozen)[]) =>
  decidedBy(
    rows.map(({ seq, hash, statement: text }) => {
      const statement = readStatement(text);
      if (!statement) throw new Error(`row ${seq}`);
      return { id: `r${seq}`, hash, statement };
    }),
  );

describe('rows of a record', () => {
  it('reads and verifies a row of version 1 as it was written', () => {
    expect(readCanonical(frozen.statement)).toMatchObject({ version: 1, gate: 'design' });
    expect(verified([frozen])).toMatchObject({ ok: true, last: frozen.hash });
    expect(decided([frozen]).signatures).toMatchObject([{ gate: 'design', role: 'lead', hash: frozen.hash }]);
  });

  it('holds rows of every kind in one chain, and says what they come to', () => {
    const rows = chain();
    expect(verified(rows)).toMatchObject({ ok: true, last: rows[3]?.hash });
    const { signatures, plan: now, concessions } = decided(rows);
    expect(signatures).toHaveLength(1);
    expect(now).toMatchObject({ row: rows[1]?.hash, by: { name: 'Lee' }, reason: 'one lead is enough here' });
    expect(now.plan.find(({ gate }) => gate === 'design')?.signs).toEqual(['lead']);
    expect(concessions).toMatchObject([{ id: 'c1', hash: rows[2]?.hash, ended: { reason: 'bent anew, wider' } }]);
    expect(decided(rows.slice(0, 3)).concessions[0]?.ended).toBeUndefined();
  });

  it('finds every byte that is another one, in a row of any kind', () => {
    const rows = chain();
    let flips = 0;
    for (const [i, row] of rows.entries())
      for (let at = 0; at < row.statement.length; at += 3) {
        const flipped = String.fromCharCode(row.statement.charCodeAt(at) ^ 1);
        const statement = row.statement.slice(0, at) + flipped + row.statement.slice(at + 1);
        const reading = verified(rows.map((one, k) => (k === i ? { ...one, statement } : one)));
        expect(reading, `row ${i + 1}, byte ${at}`).toMatchObject({ ok: false, row: i + 1 });
        flips += 1;
      }
    expect(flips).toBeGreaterThan(1000);
    for (const i of [1, 2, 3]) expect(verified(rows.filter((_, k) => k !== i)).ok).toBe(i === 3);
  });

  it('takes nothing it does not know, and no signature whose digest is not that of its facts', () => {
    const one = plan(CHAIN_START);
    for (const odd of [
      { ...one, kind: 'x' },
      { ...one, version: 3 },
      { ...one, more: 1 },
      { ...one, replaces: 1 },
      null,
      7,
    ])
      expect(readStatement(JSON.stringify(odd))).toBeNull();
    expect(readStatement('no JSON')).toBeNull();
    expect(readStatement(JSON.stringify({ ...concession(CHAIN_START), quantity: 'taste' }))).toBeNull();
    const first = readStatement(frozen.statement);
    if (first?.version !== 1) throw new Error('version 1');
    expect(digestHolds(first, statementText(first))).toBe(true);
    const moved = { ...first, facts: { ...first.facts, 'stud.torque': 19 } };
    expect(digestHolds(moved, statementText(moved))).toBe(false);
    // Texts that look like where facts begin and end.
    const odd = { ...first.facts, 'project.name': '},"files":[ ,"facts":{ }' };
    const { gate, ruleSet } = first;
    const said = { ...first, facts: odd, digest: gateDigest(gate, odd, ruleSet) };
    expect(digestHolds(said, statementText(said))).toBe(true);
    expect(digestHolds(one, statementText(one))).toBe(true);
  });

  it('lets nobody end a concession of another row', () => {
    const rows = chain().slice(0, 3);
    const previous = rows.at(-1)?.hash ?? '';
    const statement = statementText(ended(previous, '0'.repeat(64)));
    const forged = [...rows, { seq: 4, statement, hash: rowHash(previous, statement) }];
    expect(decided(forged).concessions[0]?.ended).toBeUndefined();
    expect(verified(forged)).toMatchObject({ ok: false, kind: 'contradicts', row: 4 });
  });

  it('names a row that the rows before it do not bear out, though it is whole in itself', () => {
    const signature = readStatement(frozen.statement);
    if (signature?.version !== 1) throw new Error('version 1');
    const { hash: granted = '' } = chain()[2] ?? {};
    const digest = planDigest(planFrom(plan('').plan));
    const sign = (previous: string, over: object) =>
      ({
        ...{ ...signature, ...start(previous), kind: 'signature', seq: 7, files: [], plan: digest, concessions: [] },
        ...over,
      }) as Statement;
    const readingOf = (rows: readonly (typeof frozen)[], make: (previous: string) => Statement) => {
      const previous = rows.at(-1)?.hash ?? '';
      const statement = statementText(make(previous));
      return verified([...rows, { seq: rows.length + 1, statement, hash: rowHash(previous, statement) }]);
    };
    const inForce = chain().slice(0, 3);
    const rests = { concessions: [{ id: 'c1', hash: granted }] };
    expect(readingOf(inForce, (p) => sign(p, rests))).toMatchObject({ ok: true });
    expect(readingOf([frozen], (p) => sign(p, { plan: 'f'.repeat(64) }))).toMatchObject({ ok: true });
    const odd: readonly (readonly [readonly (typeof frozen)[], (previous: string) => Statement, RegExp])[] = [
      [inForce, (p) => sign(p, { plan: 'f'.repeat(64) }), /by a plan that was not in force/],
      [inForce, (p) => sign(p, { concessions: [{ id: 'c1', hash: 'f'.repeat(64) }] }), /rests on concession c1/],
      [chain(), (p) => sign(p, rests), /rests on concession c1, which was not in force/],
      [inForce, plan, /replaces a plan that was not in force/],
      [inForce, concession, /was granted before/],
      [chain(), (p) => ended(p, granted), /ends concession c1, which was not in force/],
    ];
    for (const [rows, make, reason] of odd)
      expect(readingOf(rows, make)).toMatchObject({
        ...{ ok: false, kind: 'contradicts', row: rows.length + 1, reason: expect.stringMatching(reason) },
      });
  });
});
