import type { Block, Box, Paper, PaperSize, SignLine } from '../../shared/papers/block.ts';
import { drawBox, drawCode, drawTriangle } from './drawn.ts';
import { MM, Sheet, settings } from './sheet.ts';
import { drawTable } from './table.ts';

/** Side of a code with its quiet zone; the dark part of the longest address stays above 20 mm. */
const CODE = 34 * MM;

/** Prints a paper. The same paper, size and pictures give the same bytes. `pictures`: PNG or JPEG, by the numbers the blocks name. */
export function printPaper(paper: Paper, size: PaperSize, pictures: readonly Uint8Array[] = []): Promise<Uint8Array> {
  const sheet = new Sheet(paper, size);
  for (const block of paper.blocks) draw(sheet, block, pictures);
  return sheet.finish(paper.blocks.some(({ kind }) => kind === 'code'));
}

function draw(sheet: Sheet, block: Block, pictures: readonly Uint8Array[]): void {
  switch (block.kind) {
    case 'heading':
      return heading(sheet, block);
    case 'text':
      return sheet.paragraph(block.text, tones[block.tone ?? 'plain']);
    case 'caution':
      return caution(sheet, block);
    case 'table':
      return drawTable(sheet, block);
    case 'boxes':
      for (const item of block.items) boxLine(sheet, item);
      return;
    case 'signs':
      for (const line of block.lines) signLine(sheet, line);
      return;
    case 'code':
      return code(sheet, block);
    case 'blanks':
      for (const label of block.labels) blank(sheet, label);
      sheet.y += 8;
      return;
    case 'picture':
      return picture(sheet, block, pictures);
    case 'page':
      return sheet.y > sheet.top ? sheet.page() : undefined;
  }
}

const tones = { plain: settings.body, strong: settings.strong, quiet: settings.small } as const;

function heading(sheet: Sheet, { level, text }: Extract<Block, { kind: 'heading' }>): void {
  const setting = level === 1 ? settings.title : settings.sub;
  // Never alone at the foot of a sheet.
  sheet.need(sheet.leading(setting) + 24 * MM);
  if (sheet.y > sheet.top) sheet.y += level === 1 ? 10 : 6;
  if (level === 1) sheet.doc.outline.addItem(text);
  for (const line of sheet.lines(text, sheet.width, setting)) {
    sheet.need(sheet.leading(setting));
    sheet.tagged(level === 1 ? 'H1' : 'H2', () => sheet.line(line, { x: sheet.left, y: sheet.y }, setting));
    sheet.y += sheet.leading(setting);
  }
  sheet.y += 3;
}

function caution(sheet: Sheet, { title, lines }: Extract<Block, { kind: 'caution' }>): void {
  const pad = 6;
  const indent = 26;
  const lead = sheet.leading(settings.small);
  const set = lines.map((line) => sheet.lines(line, sheet.width - indent - 2 * pad, settings.small));
  const height = set.reduce((sum, { length }) => sum + length * lead + 2, 0) + sheet.leading(settings.strong) + 2 * pad;
  sheet.need(Math.min(height, sheet.room));
  const top = sheet.y;
  drawTriangle(sheet, { x: sheet.left + pad, y: top + pad, side: 18 });
  const x = sheet.left + indent + pad;
  sheet.y += pad;
  sheet.tagged('P', () => sheet.line(title, { x, y: sheet.y }, settings.strong));
  sheet.y += sheet.leading(settings.strong);
  for (const one of set) {
    sheet.tagged('P', () => {
      for (const [i, line] of one.entries()) sheet.line(line, { x, y: sheet.y + i * lead }, settings.small);
    });
    sheet.y += one.length * lead + 2;
  }
  sheet.y += pad;
  sheet.artifact(() =>
    sheet.doc
      .lineWidth(1.6)
      .rect(sheet.left, top, sheet.width, Math.min(sheet.y, sheet.bottom) - top)
      .stroke('black'),
  );
  sheet.y += 6;
}

function boxLine(sheet: Sheet, { ticked, letter, text, by }: Box): void {
  const x = sheet.left + 32;
  const width = sheet.width - 32;
  const lines = sheet.lines(text, width, settings.body);
  const notes = by === '' ? [] : sheet.lines(by, width, settings.small);
  const height = lines.length * sheet.leading(settings.body) + notes.length * sheet.leading(settings.small) + 6;
  sheet.need(height);
  drawBox(sheet, ticked, { x: sheet.left, y: sheet.y, side: 11 });
  sheet.tagged('P', () => {
    sheet.line(letter, { x: sheet.left + 17, y: sheet.y }, settings.strong);
    for (const [i, line] of lines.entries())
      sheet.line(line, { x, y: sheet.y + i * sheet.leading(settings.body) }, settings.body);
  });
  const below = sheet.y + lines.length * sheet.leading(settings.body);
  for (const [i, line] of notes.entries())
    sheet.tagged('P', () => sheet.line(line, { x, y: below + i * sheet.leading(settings.small) }, settings.small));
  sheet.y += height;
}

const signColumns = [
  ['role', 0],
  ['name', 0.16],
  ['date', 0.44],
  ['digest', 0.62],
  ['state', 0.8],
] as const;

/** One signature: what was signed in print, or lines to write on. */
function signLine(sheet: Sheet, given: SignLine): void {
  const height = 34;
  const ends = signColumns.map(([, share], i) => (signColumns[i + 1]?.[1] ?? 1) - share);
  const set = signColumns.map(([key], i) => {
    const setting = key === 'role' ? settings.strong : key === 'digest' ? settings.mono : settings.small;
    return { key, setting, lines: sheet.lines(given[key], sheet.width * (ends[i] ?? 0) - 8, setting) };
  });
  const deepest = Math.max(...set.map(({ lines }) => lines.length));
  sheet.need(height + (deepest - 1) * 10);
  for (const [i, { key, setting, lines }] of set.entries()) {
    const x = sheet.left + sheet.width * (signColumns[i]?.[1] ?? 0);
    sheet.tagged('P', () => {
      for (const [n, line] of lines.entries()) sheet.line(line, { x, y: sheet.y + 8 + n * 10 }, setting);
    });
    if (key === 'role' || key === 'state') continue;
    const under = sheet.y + 10 + deepest * 10;
    sheet.rule({ x, y: under }, { x: x + sheet.width * (ends[i] ?? 0) - 8, y: under });
    sheet.tagged('P', () => sheet.line(signLabels[key], { x, y: under + 2 }, { font: 'regular', size: 6 }));
  }
  sheet.y += height + (deepest - 1) * 10;
}

const signLabels = { name: 'name and signature', date: 'date', digest: 'facts signed' } as const;

function code(sheet: Sheet, { url, text }: Extract<Block, { kind: 'code' }>): void {
  sheet.need(CODE + 6);
  drawCode(sheet, url, { x: sheet.left, y: sheet.y, side: CODE });
  let y = sheet.y + 10;
  for (const one of [...text, url])
    for (const line of sheet.lines(one, sheet.width - CODE - 8, settings.body)) {
      sheet.tagged('P', () => sheet.line(line, { x: sheet.left + CODE + 8, y }, settings.body));
      y += sheet.leading(settings.body);
    }
  sheet.y = Math.max(sheet.y + CODE, y) + 6;
}

function blank(sheet: Sheet, label: string): void {
  const height = 22;
  sheet.need(height);
  const width = Math.min(sheet.widthOf(label, settings.body), sheet.width * 0.5);
  sheet.tagged('P', () => sheet.line(label, { x: sheet.left, y: sheet.y + 8 }, settings.body));
  const y = sheet.y + 19;
  sheet.rule({ x: sheet.left + width + 6, y }, { x: sheet.left + sheet.width, y });
  sheet.y += height;
}

function picture(sheet: Sheet, block: Extract<Block, { kind: 'picture' }>, pictures: readonly Uint8Array[]): void {
  const bytes = block.picture === null ? undefined : pictures[block.picture];
  if (!bytes) return sheet.paragraph(block.without, settings.small);
  const height = 75 * MM;
  sheet.need(height + sheet.leading(settings.small) + 4);
  const at = { x: sheet.left, y: sheet.y };
  sheet.tagged(
    'Figure',
    () => sheet.doc.image(Buffer.from(bytes), at.x, at.y, { fit: [sheet.width, height] }),
    block.caption,
  );
  sheet.y += height + 2;
  sheet.paragraph(block.caption, settings.small);
}
