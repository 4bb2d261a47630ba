import type { Cell, Table } from '../../shared/papers/block.ts';
import { drawMark } from './drawn.ts';
import { type Setting, type Sheet, settings } from './sheet.ts';

const PAD = 3;
const MARK = 9;
/** Height of a row that is written in by hand, points. */
const WRITTEN = 22;
/** Lines of a row that must at least stand together before it is broken over two sheets. */
const TOGETHER = 3;

interface Laid {
  readonly mark: Extract<Cell, object>['mark'] | null;
  readonly lines: readonly string[];
}

/** Left edges and widths of the columns. */
function columnsOf(sheet: Sheet, table: Table): readonly { readonly x: number; readonly width: number }[] {
  const total = table.columns.reduce((sum, { share }) => sum + share, 0);
  let x = sheet.left;
  return table.columns.map(({ share }) => {
    const width = (sheet.width * share) / total;
    const at = { x, width };
    x += width;
    return at;
  });
}

/** Prints a table; its head stands again on every sheet. */
export function drawTable(sheet: Sheet, table: Table): void {
  if (table.rows.length === 0) {
    if (table.empty !== '') sheet.paragraph(table.empty, settings.body);
    return;
  }
  const columns = columnsOf(sheet, table);
  const lay = (cells: readonly Cell[], setting: Setting): readonly Laid[] =>
    columns.map(({ width }, i) => layCell(sheet, cells[i] ?? '', { width, setting }));
  const head = lay(
    table.columns.map(({ title }) => title),
    settings.cellHead,
  );
  const printHead = (): void => {
    drawLines(sheet, { cells: head, columns, least: 0, setting: settings.cellHead });
    sheet.rule({ x: sheet.left, y: sheet.y }, { x: sheet.left + sheet.width, y: sheet.y }, 1);
  };
  sheet.need(heightOf(sheet, head) + 3 * sheet.leading(settings.cell));
  printHead();
  const least = table.toWrite ? WRITTEN : 0;
  for (const row of table.rows) drawRow(sheet, { cells: lay(row, settings.cell), columns, least }, printHead);
  sheet.y += 6;
}

function layCell(sheet: Sheet, cell: Cell, at: { readonly width: number; readonly setting: Setting }): Laid {
  const text = typeof cell === 'string' ? cell : cell.text;
  const mark = typeof cell === 'string' ? null : cell.mark;
  return { mark, lines: sheet.lines(text, at.width - 2 * PAD - (mark ? MARK + 2 : 0), at.setting) };
}

const deepest = (cells: readonly Laid[]): number => Math.max(1, ...cells.map(({ lines }) => lines.length));

function heightOf(sheet: Sheet, cells: readonly Laid[]): number {
  return deepest(cells) * sheet.leading(settings.cell) + 2 * PAD;
}

interface Row {
  readonly cells: readonly Laid[];
  /** Least height, points. */
  readonly least: number;
  readonly columns: ReturnType<typeof columnsOf>;
}

/** A row, over several sheets when it must be. */
function drawRow(sheet: Sheet, { cells, columns, least }: Row, again: () => void): void {
  let rest = cells;
  let left = deepest(cells);
  while (left > 0) {
    const fits = Math.floor((sheet.bottom - sheet.y - 2 * PAD) / sheet.leading(settings.cell));
    if (fits < Math.min(left, TOGETHER) || sheet.y + least > sheet.bottom) {
      sheet.page();
      again();
      continue;
    }
    const now = rest.map((cell) => ({ ...cell, lines: cell.lines.slice(0, fits) }));
    drawLines(sheet, { cells: now, columns, least, setting: settings.cell });
    sheet.rule({ x: sheet.left, y: sheet.y }, { x: sheet.left + sheet.width, y: sheet.y }, 0.3);
    rest = rest.map((cell) => ({ mark: null, lines: cell.lines.slice(fits) }));
    left -= fits;
  }
}

interface Lines extends Row {
  readonly setting: Setting;
}

function drawLines(sheet: Sheet, { cells, columns, least, setting }: Lines): void {
  for (const [i, { mark, lines }] of cells.entries()) {
    const x = (columns[i]?.x ?? sheet.left) + PAD;
    if (mark) drawMark(sheet, mark, { x, y: sheet.y + PAD, side: MARK });
    const from = x + (mark ? MARK + 2 : 0);
    sheet.tagged('P', () => {
      for (const [n, line] of lines.entries())
        sheet.line(line, { x: from, y: sheet.y + PAD + n * sheet.leading(setting) }, setting);
    });
  }
  sheet.y += Math.max(least, deepest(cells) * sheet.leading(setting) + 2 * PAD);
}
