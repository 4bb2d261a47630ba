import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { shortHead } from '../../shared/record/head.ts';
import { type RecordFile, readRecordFile } from '../../shared/record/recordFile.ts';
import { type Trust, verifyRecord } from '../../shared/record/verifyRecord.ts';
import { nodeSha256, signatureHolds } from '../record/signatures.ts';
import type { Console } from './console.ts';

interface Options {
  readonly file: string;
  readonly trust: Trust;
}

/** A key or the beginning of a head as people type it: any case, with spaces or without. */
const digits = (text: string): string => text.replace(/\s+/g, '').toLowerCase();

function readOptions(args: readonly string[]): Options | string {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { key: { type: 'string', multiple: true }, head: { type: 'string' } },
    });
    const [file, ...more] = positionals;
    if (file === undefined || more.length > 0) return `expected one file, got ${positionals.length}`;
    const keys = values.key?.map(digits);
    const badKey = keys?.find((key) => !/^[0-9a-f]{64}$/.test(key));
    if (badKey !== undefined) return `expected a key of 64 hex digits, got "${badKey}"`;
    const head = values.head === undefined ? undefined : digits(values.head);
    if (head !== undefined && !/^[0-9a-f]{16,64}$/.test(head))
      return `expected a head of at least 16 hex digits, got "${values.head}"`;
    return {
      file,
      trust: { signatureHolds, sha256: nodeSha256, ...(keys && { keys }), ...(head !== undefined && { head }) },
    };
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

function report(record: RecordFile, trust: Trust, out: Console): number {
  const found = verifyRecord(record, trust);
  if (!found.ok) {
    out.error(`verify: NOT SOUND. First fault at row ${found.row} (${found.kind}): ${found.reason}`);
    return 2;
  }
  if (!found.head) {
    out.line('0 rows: nothing has been signed yet');
    return 0;
  }
  out.line(`${found.rows} ${found.rows === 1 ? 'row' : 'rows'}, each as it was signed, in order and without a gap`);
  out.line(`head  ${shortHead(found.head.root)}  signed ${found.head.at}`);
  out.line(`root  ${found.head.root}`);
  out.line(`key   ${found.head.key}${trust.keys ? '' : '  (as the file names it: compare, or give --key)'}`);
  return 0;
}

/** Verifies a record taken from a server, with no server and no network. */
export async function verify(args: readonly string[], out: Console): Promise<number> {
  const options = readOptions(args);
  if (typeof options === 'string') {
    out.error(`verify: ${options}`);
    return 1;
  }
  const text = await readFile(options.file, 'utf8').catch((error: NodeJS.ErrnoException) => error);
  if (typeof text !== 'string') {
    out.error(`verify: ${options.file} cannot be read (${text.code ?? text.message})`);
    return 1;
  }
  const reading = readRecordFile(text);
  if (!reading.ok) {
    out.error(`verify: ${options.file}: ${reading.problem}`);
    return 1;
  }
  return report(reading.record, options.trust, out);
}
