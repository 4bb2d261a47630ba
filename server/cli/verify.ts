import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { type SignedHead, shortHead } from '../../shared/record/head.ts';
import { type KeptReading, readGrowthProof, readHead, readRowProof } from '../../shared/record/kept.ts';
import { verifyGrowth, verifyRowProof } from '../../shared/record/proofFile.ts';
import { readRecordFile } from '../../shared/record/recordFile.ts';
import { readStatement } from '../../shared/record/statement.ts';
import { type Trust, verifyRecord } from '../../shared/record/verifyRecord.ts';
import { nodeChecks, signatureHolds } from '../record/signatures.ts';
import type { Console } from './console.ts';

interface Options {
  readonly file: string;
  readonly trust: Trust;
  /** The file is the proof of one row. */
  readonly proof: boolean;
  /** File of an older head that the record must have grown out of. */
  readonly since: string | undefined;
}

/** What cannot even be looked at, in words. */
class Unusable extends Error {}

/** A key or the beginning of a head as people type it: any case, with spaces or without. */
const digits = (text: string): string => text.replace(/\s+/g, '').toLowerCase();

function readOptions(args: readonly string[]): Options {
  const { values, positionals } = parsed(args);
  const given = [...(values.proof === undefined ? [] : [values.proof]), ...positionals];
  const [file] = given;
  if (file === undefined || given.length > 1) throw new Unusable(`expected one file, got ${given.length}`);
  const keys = values.key?.map(digits);
  const badKey = keys?.find((key) => !/^[0-9a-f]{64}$/.test(key));
  if (badKey !== undefined) throw new Unusable(`expected a key of 64 hex digits, got "${badKey}"`);
  const head = values.head === undefined ? undefined : digits(values.head);
  if (head !== undefined && !/^[0-9a-f]{16,64}$/.test(head))
    throw new Unusable(`expected a head of at least 16 hex digits, got "${values.head}"`);
  const trust = { signatureHolds, ...nodeChecks, ...(keys && { keys }), ...(head !== undefined && { head }) };
  return { file, trust, proof: values.proof !== undefined, since: values.since };
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        key: { type: 'string', multiple: true },
        head: { type: 'string' },
        proof: { type: 'string' },
        since: { type: 'string' },
      },
    });
  } catch (error) {
    throw new Unusable(error instanceof Error ? error.message : String(error));
  }
}

async function textOf(file: string): Promise<string> {
  return readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    throw new Unusable(`${file} cannot be read (${error.code ?? error.message})`);
  });
}

function kept<T>(file: string, reading: KeptReading<T>): T {
  if (!reading.ok) throw new Unusable(`${file}: ${reading.problem}`);
  return reading.kept;
}

const keyLine = (key: string, trust: Trust): string =>
  `key   ${key}${trust.keys ? '' : '  (as the file names it: compare, or give --key)'}`;

function fault({ row, kind, reason }: { row: number; kind: string; reason: string }, out: Console): number {
  out.error(`verify: NOT SOUND. First fault at row ${row} (${kind}): ${reason}`);
  return 2;
}

function oneRow(text: string, { file, trust }: Options, out: Console): number {
  const proof = kept(file, readRowProof(text));
  const found = verifyRowProof(proof, trust);
  if (!found.ok) return fault(found, out);
  const statement = readStatement(proof.row.statement);
  const signer = statement ? `, by ${statement.signer.name} as ${statement.signer.role}, ${statement.at}` : '';
  out.line(`row ${proof.row.seq} stands in the record as it was written${signer}`);
  out.line(`head  ${shortHead(found.head.root)}  over ${found.head.size} rows, signed ${found.head.at}`);
  out.line(keyLine(found.head.key, trust));
  return 0;
}

function grown(text: string, { file, trust }: Options, older: SignedHead, out: Console): number {
  const found = verifyGrowth(kept(file, readGrowthProof(text)), older, trust);
  if (!found.ok) return fault(found, out);
  out.line(`${found.head.size} rows, grown out of the ${older.size} rows of ${older.at}: none of those was touched`);
  out.line(`head  ${shortHead(found.head.root)}  signed ${found.head.at}`);
  out.line(keyLine(found.head.key, trust));
  return 0;
}

function wholeRecord(text: string, { file, trust }: Options, older: SignedHead | undefined, out: Console): number {
  const reading = readRecordFile(text);
  if (!reading.ok) throw new Unusable(`${file}: ${reading.problem}`);
  const { record } = reading;
  // The older head is one more that the rows have to bear out.
  const found = verifyRecord(older ? { ...record, heads: [...record.heads, older] } : record, trust);
  if (!found.ok) return fault(found, out);
  if (!found.head) {
    out.line('0 rows: nothing has been signed yet');
    return 0;
  }
  out.line(`${found.rows} ${found.rows === 1 ? 'row' : 'rows'}, each as it was signed, in order and without a gap`);
  if (older) out.line(`grown out of the ${older.size} rows of ${older.at}: none of those was touched`);
  out.line(`head  ${shortHead(found.head.root)}  signed ${found.head.at}`);
  out.line(`root  ${found.head.root}`);
  out.line(keyLine(found.head.key, trust));
  return 0;
}

/** Verifies a record, one row of it or its growth, with no server and no network. */
export async function verify(args: readonly string[], out: Console): Promise<number> {
  try {
    const options = readOptions(args);
    const text = await textOf(options.file);
    if (options.proof) return oneRow(text, options, out);
    const older = options.since === undefined ? undefined : kept(options.since, readHead(await textOf(options.since)));
    if (older && text.includes('"slipjoint-growth-proof"')) return grown(text, options, older, out);
    return wholeRecord(text, options, older, out);
  } catch (error) {
    if (!(error instanceof Unusable)) throw error;
    out.error(`verify: ${error.message}`);
    return 1;
  }
}
