import type { RowStyle } from './number-scan.ts';
import { DECIMAL_COMMA, PLAIN_ROW, scanRow } from './number-scan.ts';
import { grouped, refuse } from './problem.ts';
import type { Gathered, SinkOptions } from './sink.ts';
import { PointSink } from './sink.ts';
import type { Line, Source } from './source.ts';
import { eachLine, headOf } from './source.ts';

/** A line that was passed over because it holds no point. */
export interface SkippedLine {
  readonly line: number;
  /** How it begins, at most 40 characters. */
  readonly text: string;
}

/** What a text scan held; comments and blank lines do not count as skipped. */
export interface TextScan extends Gathered {
  readonly format: 'text';
  /** Lines that hold no point, header lines included, and the first of them. */
  readonly skipped: number;
  readonly firstSkipped?: SkippedLine;
}

/** Shortest possible row, "0 0 0" and a line end, bytes. */
const SHORTEST_ROW = 6;
/** So many lines without a row before the first row, and it is no scan (own: headers have some tens of lines). */
const MOST_HEADER_LINES = 1000;

/**
 * Reads rows of x y z with any further columns (XYZ, ASC, PTS, CSV). Column names in a header line are heeded; a line with a single whole
 * number says how many rows follow, as PTS files do; a semicolon between columns allows a comma as the decimal mark.
 */
export function readText(source: Source, options: SinkOptions): TextScan {
  const offset = startOf(source);
  const state: State = { style: PLAIN_ROW, promised: 0, skipped: 0, settled: false };
  const sink = new PointSink(options);
  const point = new Float64Array(3);
  eachLine(source, { offset, firstNumber: 1 }, (line) => {
    if (!state.settled && line.number <= MOST_HEADER_LINES) settleStyle(line, state);
    if (scanRow(line, state.style, point)) {
      state.settled = true;
      sink.add(point[0] ?? 0, point[1] ?? 0, point[2] ?? 0, line.number);
    } else passOver(line, state, { source, sink });
    return true;
  });
  return report(sink, state);
}

interface State {
  style: RowStyle;
  /** Rows promised by count lines, 0 when there is none. */
  promised: number;
  skipped: number;
  firstSkipped?: SkippedLine;
  /** A row has been read: the style of the file is known. */
  settled: boolean;
}

function startOf(source: Source): number {
  const head = headOf(source, 3);
  if ((head[0] === 0xff && head[1] === 0xfe) || (head[0] === 0xfe && head[1] === 0xff)) {
    refuse('unsupported', 'Expected plain text (ASCII or UTF-8), got UTF-16. Save it as UTF-8.');
  }
  return head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf ? 3 : 0;
}

const textOf = (line: Line, most: number): string =>
  Buffer.from(line.bytes.subarray(line.start, Math.min(line.end, line.start + most)))
    .toString('latin1')
    .trim();

/** Before the first row: learns column names and the decimal mark from the line. */
function settleStyle(line: Line, state: State): void {
  const text = textOf(line, 1000);
  const names = text
    .toLowerCase()
    .replace(/^(?:#|\/\/)/, '')
    .split(/[\s,;"]+/)
    .filter((word) => word !== '');
  const [x, y, z] = [names.indexOf('x'), names.indexOf('y'), names.indexOf('z')];
  if (x !== undefined && y !== undefined && z !== undefined && Math.min(x, y, z) >= 0) {
    state.style = { ...state.style, columns: [x, y, z] };
  }
  if (/^[\d\s+-]+,\d+\s*;/.test(text) && !text.includes('.')) state.style = { ...state.style, decimal: DECIMAL_COMMA };
}

function passOver(line: Line, state: State, { source, sink }: { source: Source; sink: PointSink }): void {
  const text = textOf(line, 40);
  if (text === '' || text.startsWith('#') || text.startsWith('//')) return;
  if (/^\d{1,15}$/.test(text) && (!state.settled || state.promised > 0)) {
    state.promised += Number(text);
    const bytes = state.promised * SHORTEST_ROW - 1;
    if (bytes > source.size) {
      const claim = `Line ${line.number} promises ${grouped(Number(text))} points = at least ${grouped(bytes)} bytes`;
      refuse('truncated', `${claim}, the file has ${grouped(source.size)}. Upload it again, or export it again.`);
    }
    return;
  }
  state.skipped++;
  state.firstSkipped ??= { line: line.number, text };
  if (!state.settled && state.skipped > MOST_HEADER_LINES) report(sink, state);
}

function report(sink: PointSink, state: State): TextScan {
  const { skipped, firstSkipped, promised } = state;
  const first = firstSkipped ? ` Line ${firstSkipped.line} reads "${firstSkipped.text}".` : '';
  if (!state.settled)
    refuse('no-readable-line', `Expected rows of at least three numbers (x y z), found none.${first}`);
  const rows = sink.seen;
  if (rows < promised) {
    refuse('truncated', `The count line promises ${grouped(promised)} points, the file has ${grouped(rows)}.${first}`);
  }
  if (skipped > Math.max(rows, 100)) {
    refuse(
      'no-readable-line',
      `Expected rows of numbers; ${grouped(skipped)} lines are none and only ${grouped(rows)} are.${first}`,
    );
  }
  return { ...sink.finish('line'), format: 'text', skipped, ...(firstSkipped && { firstSkipped }) };
}
