import { describe, expect, it } from 'vitest';
import { signatureHolds } from '../../server/record/signatures.ts';
import { headSigner, logRow, recordLog } from '../../tests/support/recordLog.ts';
import { seededRandom } from '../geometry/random.ts';
import type { SignedHead } from './head.ts';
import { shortHead } from './head.ts';
import { type RecordFile, type RecordRow, readRecordFile } from './recordFile.ts';
import { CHAIN_START } from './statement.ts';
import { type Trust, verifyRecord } from './verifyRecord.ts';
import { type Reached, verifyRows } from './verifyRows.ts';

const ROWS = 10_000;
/** Verified states kept, so that a fault is looked for from shortly before it. */
const EVERY = 20;
const signer = headSigner('11'.repeat(32));
const trust: Trust = { signatureHolds };
const log = recordLog({ rows: ROWS, signer, headAt: (seq) => seq % 10 === 0 || seq > ROWS - 50 });
const always = () => true;
const states: Reached[] = [];
for (let at = 0; at < ROWS; at += EVERY) {
  const reached = verifyRows('p', log.rows.slice(0, at), states.at(-1));
  if (!reached.ok) throw new Error(reached.reason);
  states.push(reached);
}

const random = seededRandom(5);
const pick = (below: number): number => Math.floor(random() * below);
/** What is found in a changed log, looking from the last state before row `index` (from 0) on. */
const found = (changed: Partial<RecordFile>, index: number, more: Partial<Trust> = {}) =>
  verifyRecord({ ...log, ...changed }, { ...trust, ...more }, states[Math.floor(index / EVERY)]);
const withRow = (index: number, row: RecordRow): RecordRow[] => log.rows.with(index, row);
const rowAt = (index: number, rows: readonly RecordRow[] = log.rows): RecordRow => {
  const row = rows[index];
  if (!row) throw new Error(`no row ${index}`);
  return row;
};
const headAt = (index: number): SignedHead => {
  const head = log.heads[index];
  if (!head) throw new Error(`no head ${index}`);
  return head;
};
const flipped = (text: string, at: number): string =>
  text.slice(0, at) + String.fromCharCode(text.charCodeAt(at) ^ (1 << pick(7))) + text.slice(at + 1);
const renumbered = (rows: readonly RecordRow[]) => rows.map((row, i) => ({ ...row, seq: i + 1 }));

describe('a record of 10,000 rows', () => {
  it('is sound as a whole, from the start and from any state reached before', () => {
    const whole = verifyRecord(log, { ...trust, keys: [signer.key], head: log.heads[499]?.root.slice(0, 16) ?? '' });
    expect(whole).toMatchObject({ ok: true, rows: ROWS, head: log.heads.at(-1) });
    expect(found({}, ROWS - 1)).toEqual(whole);
  });

  it('names the row in which one of 4,000 single bits was flipped, whatever field', () => {
    for (let n = 0; n < 4_000; n++) {
      const index = n < 3 ? ([0, 1, ROWS - 1][n] ?? 0) : pick(ROWS);
      const row = rowAt(index);
      const field = (['statement', 'statement', 'hash', 'seq'] as const)[n % 4] ?? 'seq';
      const value = field === 'seq' ? row.seq ^ (1 << pick(31)) : flipped(row[field], pick(row[field].length));
      const changed = { ...row, [field]: value };
      expect(found({ rows: withRow(index, changed) }, index), `${field} of row ${index + 1}`).toMatchObject({
        ...{ ok: false, kind: 'changed', row: index + 1 },
      });
    }
  });

  it('names the head in which one of 1,000 single bits was flipped, whatever field', () => {
    for (let n = 0; n < 1_000; n++) {
      const nth = pick(log.heads.length);
      const head = headAt(nth);
      const index = head.size - 1;
      const field = (['root', 'last', 'at', 'key', 'signature', 'project'] as const)[n % 6] ?? 'at';
      const heads = log.heads.with(nth, { ...head, [field]: flipped(head[field], pick(head[field].length)) });
      expect(found({ heads }, index), `${field} of head ${index + 1}`).toMatchObject({
        ...{ ok: false, kind: field === 'project' ? 'other-log' : 'bad-signature', row: index + 1 },
      });
    }
  });

  it('names the place of each of 100 dropped rows, numbered anew or not', () => {
    for (let n = 0; n < 100; n++) {
      const index = n < 2 ? n * (ROWS - 1) : pick(ROWS);
      const rows = log.rows.filter((_, i) => i !== index);
      expect(found({ rows: n % 2 ? renumbered(rows) : rows }, index)).toMatchObject({
        ...{ ok: false, kind: 'dropped', row: index + 1 },
      });
    }
  });

  it('names the first of each of 300 pairs of swapped rows', () => {
    for (let n = 0; n < 300; n++) {
      const index = pick(ROWS - 100);
      const other = index + 1 + (n % 3 === 0 ? 0 : pick(99));
      const rows = log.rows.map((row, i) => (i === index ? rowAt(other) : i === other ? rowAt(index) : row));
      expect(found({ rows: n % 2 ? renumbered(rows) : rows }, index)).toMatchObject({
        ...{ ok: false, kind: 'swapped', row: index + 1 },
      });
    }
  });

  it('names each of 300 rows put in: one from elsewhere in it, one of another project, one made for the place', () => {
    const foreign = recordLog({ rows: 50, signer, headAt: always, project: 'q' }).rows;
    for (let n = 0; n < 300; n++) {
      const index = 1 + pick(ROWS - 1);
      const forged = logRow(
        'p',
        index + 1,
        rowAt(index - 1).hash.replace(/^./, (d) => (d === '0' ? '1' : '0')),
      );
      const row = [rowAt(pick(ROWS)), rowAt(1 + pick(49), foreign), forged][n % 3] ?? forged;
      const rows = [...log.rows.slice(0, index), row, ...log.rows.slice(index)];
      expect(found({ rows }, index), `${n % 3} at ${index}`).toMatchObject({
        ok: false,
        kind: 'put-in',
        row: index + 1,
      });
    }
  });

  it('names the first row of a record written anew from there on, with every hash made to fit', () => {
    for (let n = 0; n < 20; n++) {
      const index = ROWS - 1 - pick(30);
      const rows: RecordRow[] = log.rows.slice(0, index);
      for (let i = index; i < ROWS; i++) rows.push(logRow('p', i + 2, rows[i - 1]?.hash ?? CHAIN_START));
      expect(found({ rows: renumbered(rows) }, index)).toMatchObject({ ok: false, kind: 'changed', row: index + 1 });
    }
  });
});

describe('a small record', () => {
  const small = recordLog({ rows: 5, signer, headAt: always });
  const mallory = headSigner('22'.repeat(32));
  const forged = recordLog({ rows: 5, signer: mallory, headAt: always });

  it('fails for a flipped bit in each byte of its file', () => {
    const text = JSON.stringify(small);
    const bytes = Buffer.from(text);
    const passed: string[] = [];
    for (let at = 0; at < bytes.length; at++) {
      const copy = Buffer.from(bytes);
      copy[at] = (copy[at] ?? 0) ^ (1 << (at % 8));
      const reading = readRecordFile(copy.toString());
      if (reading.ok && verifyRecord(reading.record, trust).ok) passed.push(text.slice(at - 10, at + 10));
    }
    expect(passed).toEqual([]);
  });

  it('is known by its key only to one who got the key elsewhere', () => {
    expect(verifyRecord(forged, trust).ok).toBe(true);
    const fault = { ok: false, kind: 'other-key', row: 1 };
    expect(verifyRecord(forged, { ...trust, keys: [signer.key] })).toMatchObject(fault);
    expect(verifyRecord(forged, { ...trust, keys: [signer.key, mallory.key] }).ok).toBe(true);
  });

  it('shows an older copy only to one who has a head that was written down', () => {
    const older = { ...small, rows: small.rows.slice(0, 3), heads: small.heads.slice(0, 3) };
    expect(verifyRecord(older, trust)).toMatchObject({ ok: true, rows: 3 });
    const head = small.heads[4]?.root.slice(0, 16) ?? '';
    expect(verifyRecord(older, { ...trust, head })).toMatchObject({ ok: false, kind: 'unknown-head', row: 4 });
    expect(verifyRecord(small, { ...trust, head }).ok).toBe(true);
  });

  it('must be under a head of the key of the file up to its last row', () => {
    const cut = { ...small, heads: small.heads.slice(0, 3) };
    expect(verifyRecord(cut, trust)).toMatchObject({ ok: false, kind: 'unsigned', row: 4 });
    expect(verifyRecord({ ...small, heads: [] }, trust)).toMatchObject({ ok: false, kind: 'unsigned', row: 1 });
    expect(verifyRecord({ ...small, key: mallory.key }, trust)).toMatchObject({ ok: false, kind: 'unsigned' });
  });

  it('refuses heads and rows of another record, and a head over rows that are gone', () => {
    const other = recordLog({ rows: 6, signer, headAt: always, project: 'q' });
    const [head] = other.heads;
    if (!head) throw new Error('no head');
    expect(verifyRecord({ ...small, heads: [...small.heads, head] }, trust)).toMatchObject({
      kind: 'other-log',
      row: 1,
    });
    const last = other.heads[5] ?? head;
    expect(verifyRecord({ ...small, heads: [...small.heads, last] }, trust)).toMatchObject({
      kind: 'other-log',
      row: 6,
    });
    expect(verifyRecord({ ...small, rows: other.rows }, trust)).toMatchObject({ kind: 'other-log', row: 1 });
    const cut = { ...small, rows: small.rows.slice(0, 3) };
    expect(verifyRecord(cut, trust)).toMatchObject({ ok: false, kind: 'dropped', row: 4 });
  });

  it('may be empty', () => {
    expect(verifyRecord({ ...small, rows: [], heads: [] }, trust)).toMatchObject({ ok: true, rows: 0, head: null });
  });
});

it('reads only what is a record, and says what it expected', () => {
  expect(readRecordFile('{')).toMatchObject({ ok: false, problem: expect.stringMatching(/^expected JSON, /) });
  for (const text of ['null', '[]', '{"format":"x"}', '{"rows":1}'])
    expect(readRecordFile(text)).toMatchObject({
      ok: false,
      problem: expect.stringMatching(/^expected a record file/),
    });
});

it('writes the short form of a head in groups of four', () => {
  expect(shortHead(`0123456789abcdef${'f'.repeat(48)}`)).toBe('0123 4567 89ab cdef ffff ffff ffff ffff');
});
