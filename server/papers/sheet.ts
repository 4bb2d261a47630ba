import { readFileSync } from 'node:fs';
import PDFDocument from 'pdfkit';
import type { Paper, PaperSize } from '../../shared/papers/block.ts';
import { utcWords } from '../../shared/papers/traveller.ts';
import { rootFile } from '../storage/embedded/root-file.ts';
import { linesOf, printable } from './letters.ts';

/** Points; 72 to the inch. */
export const MM = 72 / 25.4;
const MARGIN = 15 * MM;
const HEAD = 16 * MM;
const FOOT = 19 * MM;
const SIZES = { a4: 'A4', letter: 'LETTER' } as const;

/** How text is set: font, size in points. */
export interface Setting {
  readonly font: 'regular' | 'bold' | 'mono';
  readonly size: number;
}
export const settings = {
  title: { font: 'bold', size: 14 },
  sub: { font: 'bold', size: 10 },
  body: { font: 'regular', size: 9 },
  strong: { font: 'bold', size: 9 },
  small: { font: 'regular', size: 7.5 },
  cell: { font: 'regular', size: 7.5 },
  cellHead: { font: 'bold', size: 7.5 },
  mono: { font: 'mono', size: 7.5 },
} as const satisfies Readonly<Record<string, Setting>>;

const files = { regular: 'B612-Regular', bold: 'B612-Bold', mono: 'B612Mono-Regular' } as const;
let read: Readonly<Record<Setting['font'], Buffer>> | undefined;

function fonts(): Readonly<Record<Setting['font'], Buffer>> {
  const font = (name: string): Buffer => readFileSync(rootFile(`web/fonts/${name}.woff2`, import.meta.url));
  read ??= { regular: font(files.regular), bold: font(files.bold), mono: font(files.mono) };
  return read;
}

/** The part of the library's inner font that tells which signs it has; its types leave it out. */
interface WithGlyphs {
  readonly _font: { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } };
}

/** A pile of sheets being printed: knows where the next line goes and starts a new sheet when one is full. */
export class Sheet {
  readonly doc: PDFKit.PDFDocument;
  readonly left = MARGIN;
  y = 0;
  private readonly paper: Paper;
  private readonly size: PaperSize;
  private readonly chunks: Buffer[] = [];
  private readonly ended: Promise<void>;

  constructor(paper: Paper, size: PaperSize) {
    this.paper = paper;
    this.size = size;
    const printed = new Date(paper.printed);
    this.doc = new PDFDocument({
      autoFirstPage: false,
      bufferPages: true,
      pdfVersion: '1.7',
      lang: 'en',
      tagged: true,
      displayTitle: true,
      info: { Title: `${paper.title}: ${paper.job}`, CreationDate: printed, ModDate: printed, Creator: 'Slipjoint' },
    });
    this.ended = new Promise((resolve, reject) => {
      this.doc.on('data', (chunk: Buffer) => this.chunks.push(chunk));
      this.doc.on('end', resolve);
      this.doc.on('error', reject);
    });
    for (const [name, bytes] of Object.entries(fonts())) this.doc.registerFont(name, bytes);
    this.page();
  }

  get width(): number {
    return this.doc.page.width - 2 * MARGIN;
  }

  /** Lowest place a line may reach. */
  get bottom(): number {
    return this.doc.page.height - MARGIN - FOOT;
  }

  /** Height of a sheet between head and foot. */
  get room(): number {
    return this.bottom - this.top;
  }

  get top(): number {
    return MARGIN + HEAD;
  }

  page(): void {
    this.doc.addPage({ size: SIZES[this.size], margin: 0 });
    this.y = this.top;
  }

  /** Starts a new sheet unless so much room is left, or nothing stands on this one. */
  need(height: number): void {
    if (this.y + height > this.bottom && this.y > this.top) this.page();
  }

  /** Text broken into lines as it will be set. */
  lines(text: string, width: number, { font, size }: Setting): readonly string[] {
    this.doc.font(font).fontSize(size);
    return linesOf(this.plain(text), width, (one) => this.doc.widthOfString(one));
  }

  /** Height of one line. */
  leading({ size }: Setting): number {
    return size * 1.3;
  }

  /** One line that is known to fit. */
  line(text: string, at: { readonly x: number; readonly y: number }, { font, size }: Setting): void {
    if (text === '') return;
    this.doc.font(font).fontSize(size).fillColor('black');
    this.doc.text(this.plain(text), at.x, at.y, { lineBreak: false });
  }

  /** A paragraph over the whole width, over as many sheets as it takes. */
  paragraph(text: string, setting: Setting, gap = 4): void {
    for (const line of this.lines(text, this.width, setting)) {
      this.need(this.leading(setting));
      this.tagged('P', () => this.line(line, { x: this.left, y: this.y }, setting));
      this.y += this.leading(setting);
    }
    this.y += gap;
  }

  /** Draws something as an element of the document's structure, for readers that speak. */
  tagged(type: string, draw: () => void, alt?: string): void {
    const element = this.doc.struct(type, alt === undefined ? {} : { alt }, draw);
    this.doc.addStructure(element);
    element.end();
  }

  /** Draws what only decorates: rules, frames, marks beside their words. */
  artifact(draw: () => void): void {
    this.doc.markContent('Artifact', { type: 'Layout' });
    draw();
    this.doc.endMarkedContent();
  }

  rule(
    from: { readonly x: number; readonly y: number },
    to: { readonly x: number; readonly y: number },
    width = 0.5,
  ): void {
    this.artifact(() =>
      this.doc.lineWidth(width).moveTo(from.x, from.y).lineTo(to.x, to.y).strokeColor('black').stroke(),
    );
  }

  /** Heads and feet, now that the number of sheets is known, and the bytes. */
  async finish(coded: boolean): Promise<Uint8Array> {
    const { count } = this.doc.bufferedPageRange();
    for (let i = 0; i < count; i++) {
      this.doc.switchToPage(i);
      this.frame(`page ${i + 1} of ${count}`, coded);
    }
    this.doc.end();
    await this.ended;
    return Buffer.concat(this.chunks);
  }

  private frame(pageWords: string, coded: boolean): void {
    const { paper, doc, left } = this;
    const right = left + this.width;
    doc.markContent('Artifact', { type: 'Pagination' });
    const pageWidth = this.widthOf(pageWords, settings.strong);
    const head = this.lines(`${paper.title}: ${paper.job}`, this.width - pageWidth - 12, settings.strong);
    const shown = head.length > 2 ? [head[0] ?? '', `${head[1] ?? ''}…`] : head;
    for (const [i, line] of shown.entries()) this.line(line, { x: left, y: MARGIN + i * 12 }, settings.strong);
    this.line(pageWords, { x: right - pageWidth, y: MARGIN }, settings.strong);
    const foot = doc.page.height - MARGIN - FOOT + 5 * MM;
    doc.lineWidth(0.8).strokeColor('black');
    doc
      .moveTo(left, MARGIN + HEAD - 14)
      .lineTo(right, MARGIN + HEAD - 14)
      .stroke();
    doc
      .moveTo(left, foot - 3)
      .lineTo(right, foot - 3)
      .stroke();
    const lines = [
      `${paper.state}, printed ${utcWords(paper.printed)}`,
      paper.head ? `Head of the record ${paper.head}` : 'Head of the record: nothing has been signed yet',
      coded
        ? 'Uncontrolled when printed unless the code says current.'
        : 'Uncontrolled when printed: the app has the present state.',
    ];
    for (const [i, line] of lines.entries())
      this.line(line, { x: left, y: foot + i * 11 }, i === 1 ? settings.mono : settings.small);
    doc.endMarkedContent();
  }

  widthOf(text: string, { font, size }: Setting): number {
    return this.doc.font(font).fontSize(size).widthOfString(this.plain(text));
  }

  private plain(text: string): string {
    const { font } = (this.doc as unknown as WithGlyphs)._font;
    return printable(text, (codePoint) => font.hasGlyphForCodePoint(codePoint));
  }
}
