import type { FieldGroup } from './field.ts';
import { bayCollections, bayGroups } from './rows/bay.ts';
import { headerCollections, headerGroups } from './rows/header.ts';
import { weldCollections } from './rows/weld.ts';

export { nodeFields } from './rows/header.ts';

/** The rows of the spec, gathered from rows/: the forms, the validator, the JSON Schema and the help all read these. */

/** Branches that exist once in a spec, with their fields. */
export const groups = {
  ...headerGroups,
  ...bayGroups,
} as const satisfies Readonly<Record<string, FieldGroup>>;

/** Branches with any number of rows, with the fields of a row. */
export const collections = {
  ...headerCollections,
  ...bayCollections,
  ...weldCollections,
} as const satisfies Readonly<Record<string, FieldGroup>>;

/** A branch of the spec as the sheet shows it. */
export interface SheetSection {
  readonly branch: keyof typeof groups | keyof typeof collections;
  readonly title: string;
  /** What one row is called; groups have none. */
  readonly noun?: string;
  /** Open when the sheet is first shown. */
  readonly open?: boolean;
}

/** Every branch in the order of the sheet. */
export const sheetSections: readonly SheetSection[] = [
  { branch: 'engine', title: 'Engine', open: true },
  { branch: 'tube', title: 'Runner tube', open: true },
  { branch: 'runners', title: 'Runners', noun: 'Runner', open: true },
  { branch: 'collector', title: 'Collector' },
  { branch: 'flange', title: 'Head flange' },
  { branch: 'head', title: 'Cylinder head' },
  { branch: 'stud', title: 'Studs' },
  { branch: 'holes', title: 'Stud holes', noun: 'Hole' },
  { branch: 'turbo', title: 'Turbo' },
  { branch: 'bay', title: 'Bay and scan' },
  { branch: 'components', title: 'Bay components', noun: 'Component' },
  { branch: 'joints', title: 'Joints', noun: 'Joint' },
  { branch: 'purges', title: 'Purge volumes', noun: 'Purge volume' },
  { branch: 'project', title: 'Job' },
];

/** Heading of a branch. */
export function branchTitle(branch: string): string {
  return sheetSections.find((s) => s.branch === branch)?.title ?? branch;
}
