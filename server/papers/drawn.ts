import QRCode from 'qrcode';
import type { Mark } from '../../shared/rules/words.ts';
import type { Sheet } from './sheet.ts';

interface Place {
  readonly x: number;
  readonly y: number;
  /** Side of the square it fills, points. */
  readonly side: number;
}

type Pen = PDFKit.PDFDocument;

/** The marks of the app in a field of 24 by 24; black alone tells them apart. */
const shapes: Readonly<Record<Mark, (pen: Pen) => void>> = {
  within: (pen) => pen.circle(12, 12, 6).fill('black'),
  near: (pen) => pen.path('M17.5 7.2A7.3 7.3 0 1 0 17.5 16.8Z').fill('black'),
  outside: (pen) => pen.path('M4 4h16v4.5L13 12l7 3.5V20H4Z').fill('black'),
  caution: (pen) => pen.path('M4 4h16v16H4ZM8 8v8h8V8Z').fill('black', 'even-odd'),
  unknown: (pen) =>
    pen
      .path('M12 4.5a7.5 7.5 0 0 1 6.3 3.4M19.4 12.8a7.5 7.5 0 0 1-5.2 6.4M9.2 18.9A7.5 7.5 0 0 1 5.6 8.1')
      .lineWidth(2.2)
      .stroke('black'),
  pending: (pen) => pen.path('M17.3 6.7a7.5 7.5 0 1 0 0 10.6').lineWidth(2.2).stroke('black'),
  none: (pen) => pen.path('M7 12h10').lineWidth(2.2).stroke('black'),
};

/** Draws the mark of a verdict; its words stand beside it. */
export function drawMark(sheet: Sheet, mark: Mark, { x, y, side }: Place): void {
  const { doc } = sheet;
  sheet.artifact(() => {
    doc
      .save()
      .translate(x, y)
      .scale(side / 24);
    shapes[mark](doc);
    doc.restore();
  });
}

/** A box to tick; a cross where it was ticked before printing. */
export function drawBox(sheet: Sheet, ticked: boolean, { x, y, side }: Place): void {
  const { doc } = sheet;
  sheet.artifact(() => {
    doc.lineWidth(1).rect(x, y, side, side).stroke('black');
    if (!ticked) return;
    doc
      .lineWidth(1.6)
      .moveTo(x + 2, y + 2)
      .lineTo(x + side - 2, y + side - 2);
    doc
      .moveTo(x + side - 2, y + 2)
      .lineTo(x + 2, y + side - 2)
      .stroke('black');
  });
}

/** Modules of blank round a code (ISO/IEC 18004). */
const QUIET = 4;

/** A QR code with a quarter of it to spare for dirt (level Q), quiet zone within the square. */
export function drawCode(sheet: Sheet, url: string, { x, y, side }: Place): void {
  const { modules } = QRCode.create(url, { errorCorrectionLevel: 'Q' });
  const step = side / (modules.size + 2 * QUIET);
  const { doc } = sheet;
  const draw = (): void => {
    doc
      .save()
      .translate(x + QUIET * step, y + QUIET * step)
      .scale(step);
    for (let row = 0; row < modules.size; row++)
      for (const [from, length] of runs(modules.size, (column) => modules.get(row, column) !== 0))
        doc.rect(from, row, length, 1);
    doc.fill('black');
    doc.restore();
  };
  sheet.tagged('Figure', draw, `Code with the address ${url}`);
}

/** Dark stretches of a row, as start and length: side by side they leave no hairlines. */
function runs(size: number, dark: (column: number) => boolean): readonly (readonly [number, number])[] {
  const out: [number, number][] = [];
  for (let column = 0; column < size; column++) {
    if (!dark(column)) continue;
    const last = out.at(-1);
    if (last && last[0] + last[1] === column) last[1] += 1;
    else out.push([column, 1]);
  }
  return out;
}

/** A triangle with a stroke and a dot: caution without a colour. */
export function drawTriangle(sheet: Sheet, { x, y, side }: Place): void {
  const { doc } = sheet;
  sheet.artifact(() => {
    doc
      .save()
      .translate(x, y)
      .scale(side / 24);
    doc.path('M12 2L23 21H1Z').lineWidth(2.4).stroke('black');
    doc.rect(11, 8.5, 2, 6.5).rect(11, 16.5, 2, 2).fill('black');
    doc.restore();
  });
}
