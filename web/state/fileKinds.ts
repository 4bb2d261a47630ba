import { uploadUses } from '../../shared/protocol/http.ts';

/** What a file can be brought as. */
export type FileUse = (typeof uploadUses)[number];

interface FileKind {
  readonly uses: readonly FileUse[];
  /** Whether the file itself says in which unit its numbers are. */
  readonly statesUnit: boolean;
}

const scan: FileKind = { uses: ['scan'], statesUnit: false };
const part: FileKind = { uses: ['part'], statesUnit: false };
const either: FileKind = { uses: uploadUses, statesUnit: false };

/** By the ending of the name. A kind that holds points as well as surfaces can be either: the person knows which. */
const kinds: Readonly<Record<string, FileKind>> = {
  ...{ xyz: scan, asc: scan, pts: scan, txt: scan, csv: scan, las: scan, laz: scan },
  // Metres by the standard (ASTM E2807).
  e57: { ...scan, statesUnit: true },
  ...{ ply: either, stl: either, obj: part },
  step: { ...part, statesUnit: true },
  stp: { ...part, statesUnit: true },
  '3mf': { ...part, statesUnit: true },
  glb: { ...part, statesUnit: true },
};

/** For the file dialog. */
export const acceptedFiles = Object.keys(kinds)
  .map((ending) => `.${ending}`)
  .join(',');

/** What a file of this name can be. The server goes by the content: a name it does not know is left to the person. */
export function fileKind(name: string): FileKind {
  return kinds[/\.([^.]*)$/.exec(name)?.[1]?.toLowerCase() ?? ''] ?? either;
}

/** How the server says what it read, and what people call it. */
const formatNames: Readonly<Record<string, string>> = {
  'ply-ascii': 'PLY, text',
  'ply-binary-le': 'PLY, binary',
  'ply-binary-be': 'PLY, binary',
  text: 'rows of text',
  'stl-ascii': 'STL, text',
  'stl-binary': 'STL, binary',
};

/** A format as it is called in the shop. */
export const formatName = (format: string): string => formatNames[format] ?? format.toUpperCase();
