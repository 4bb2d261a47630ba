import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/*
 * Independent programs that read PDF files and codes (Debian: qpdf, poppler-utils, zbar-tools; `npm test` installs them there as root).
 * Files pass through a folder that is taken away again.
 */

const programs = ['qpdf', 'pdftotext', 'pdftoppm', 'zbarimg'] as const;
const missing = programs.filter((name) => spawnSync(name, ['--version']).error);

/** All of them, as one judge of papers. */
export const paperJudge = {
  name: missing.length === 0 ? programs.join(', ') : `${missing.join(', ')} (not installed)`,
  here: missing.length === 0,
};

function inFolder<T>(pdf: Uint8Array, work: (file: string, folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'slipjoint-papers-'));
  try {
    const file = join(folder, 'paper.pdf');
    writeFileSync(file, pdf);
    return work(file, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function run(command: (typeof programs)[number], args: readonly string[], fine: readonly number[] = [0]): string {
  const { status, stdout, stderr } = spawnSync(command, args, { encoding: 'utf8', maxBuffer: 1e8 });
  if (status === null || !fine.includes(status)) throw new Error(`${command} answered ${status}: ${stderr}${stdout}`);
  return stdout;
}

/** What qpdf says of a file; throws where it finds an error or warns. */
export function checked(pdf: Uint8Array): string {
  return inFolder(pdf, (file) => run('qpdf', ['--check', file]));
}

/** The text of each sheet as pdftotext reads it, in reading order. */
export function sheetTexts(pdf: Uint8Array): readonly string[] {
  return inFolder(pdf, (file) => run('pdftotext', ['-layout', file, '-']))
    .split('\f')
    .slice(0, -1);
}

/** The codes on each sheet as zbar reads them from a picture of 150 dots to the inch. */
export function sheetCodes(pdf: Uint8Array): readonly (readonly string[])[] {
  return inFolder(pdf, (file, folder) => {
    run('pdftoppm', ['-r', '150', '-gray', '-png', file, join(folder, 'sheet')]);
    const pictures = readdirSync(folder)
      .filter((name) => name.endsWith('.png'))
      .sort();
    // 4: it looked and there was no code.
    const read = (name: string): string => run('zbarimg', ['-q', '--raw', join(folder, name)], [0, 4]);
    return pictures.map((name) =>
      read(name)
        .split('\n')
        .filter((line) => line !== ''),
    );
  });
}
