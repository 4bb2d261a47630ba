import { createHash } from 'node:crypto';
import { performance } from 'node:perf_hooks';
import { nodeChecks, signatureHolds } from '../../server/record/signatures.ts';
import { verifyRecord } from '../../shared/record/verifyRecord.ts';
import { headSigner, recordLog } from '../support/recordLog.ts';

/** Verifies a record of a million rows and compares with plain SHA-256 over the same bytes. Run: npm run bench -- record [rows] */

const rows = Number(process.argv[2] ?? 1_000_000);
/** Each head costs one signature; in a shop's record every row has one, which the second part times by itself. */
const HEAD_EVERY = 1_000;
const ASKED_S = 10;

const signer = headSigner('33'.repeat(32));
const record = recordLog({ rows, signer, headAt: (seq) => seq % HEAD_EVERY === 0 });

const [start, cpuStart] = [performance.now(), process.cpuUsage()];
const found = verifyRecord(record, { signatureHolds, ...nodeChecks, keys: [signer.key] });
const seconds = (performance.now() - start) / 1000;
const { user, system } = process.cpuUsage(cpuStart);
const cpu = (user + system) / 1e6;
if (!found.ok) throw new Error(found.reason);

const hash = createHash('sha256');
const plainStart = performance.now();
let bytes = 0;
for (const { statement } of record.rows) {
  hash.update(statement);
  bytes += Buffer.byteLength(statement);
}
hash.digest();
const plain = (performance.now() - plainStart) / 1000;

const [head] = record.heads;
if (!head) throw new Error('no head');
const SIGNED = 2_000;
const small = recordLog({ rows: SIGNED, signer, headAt: () => true });
const smallStart = performance.now();
if (!verifyRecord(small, { signatureHolds }).ok) throw new Error('not sound');
const each = (performance.now() - smallStart) / SIGNED;

console.log(
  `${rows} rows (${(bytes / 1e6).toFixed(0)} MB of statements, ${record.heads.length} heads) verified in ${seconds.toFixed(2)} s, ${cpu.toFixed(2)} s of processor time ` +
    `(asked at 1,000,000: ${ASKED_S} s), ${((seconds / rows) * 1e6).toFixed(2)} us a row`,
);
console.log(`plain SHA-256 of the same statements: ${plain.toFixed(2)} s, ratio ${(seconds / plain).toFixed(1)}`);
console.log(`with a signed head after every row: ${(each * 1000).toFixed(0)} us a row`);
