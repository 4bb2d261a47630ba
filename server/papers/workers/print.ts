import type { Paper, PaperSize } from '../../../shared/papers/block.ts';
import { printPaper } from '../print.ts';

/** What goes to the thread that prints. */
export interface PrintTask {
  readonly paper: Paper;
  readonly size: PaperSize;
  readonly pictures: readonly Uint8Array[];
}

/** Body of the printing thread: laying out a long paper takes a second, and no edit may wait for it. */
export default function print({ paper, size, pictures }: PrintTask): Promise<Uint8Array> {
  return printPaper(paper, size, pictures);
}
