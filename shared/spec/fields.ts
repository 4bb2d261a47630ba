import type { FieldGroup } from './field.ts';
import { accessGroups } from './rows/access.ts';
import { bayCollections, bayGroups } from './rows/bay.ts';
import { flowCollections, flowGroups } from './rows/flow.ts';
import { headerCollections, headerGroups, nodeFields } from './rows/header.ts';
import { materialPointFields, materialRuptureFields, ownCollections } from './rows/own.ts';
import { printCollections, printGroups } from './rows/print.ts';
import { structureCollections, structureGroups } from './rows/structure.ts';
import { weldCollections } from './rows/weld.ts';
import { workCollections, workGroups } from './rows/work.ts';

export { nodeFields } from './rows/header.ts';

/** The rows of the spec, gathered from rows/: the forms, the validator, the JSON Schema and the help all read these. */

/** Branches that exist once in a spec, with their fields. */
export const groups = {
  ...headerGroups,
  ...bayGroups,
  ...flowGroups,
  ...structureGroups,
  ...printGroups,
  ...accessGroups,
  ...workGroups,
} as const satisfies Readonly<Record<string, FieldGroup>>;

/** Branches with any number of rows, with the fields of a row. */
export const collections = {
  ...headerCollections,
  ...bayCollections,
  ...weldCollections,
  ...flowCollections,
  ...structureCollections,
  ...printCollections,
  ...workCollections,
  ...ownCollections,
} as const satisfies Readonly<Record<string, FieldGroup>>;

/** Tables inside a row of a collection, with the fields of their rows: `runners.r1.nodes.n2.x`. */
export const tables = {
  runners: { nodes: nodeFields },
  materials: { points: materialPointFields, ruptures: materialRuptureFields },
} as const satisfies Readonly<Partial<Record<keyof typeof collections, Readonly<Record<string, FieldGroup>>>>>;

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
  { branch: 'slipJoints', title: 'Slip joints', noun: 'Slip joint' },
  { branch: 'collector', title: 'Collector' },
  { branch: 'inlets', title: 'Collector inlets', noun: 'Inlet' },
  { branch: 'outlet', title: 'Collector outlet' },
  { branch: 'heat', title: 'Heat' },
  { branch: 'flange', title: 'Head flange' },
  { branch: 'head', title: 'Cylinder head' },
  { branch: 'port', title: 'Head ports' },
  { branch: 'stud', title: 'Studs' },
  { branch: 'holes', title: 'Stud holes', noun: 'Hole' },
  { branch: 'gasket', title: 'Gasket' },
  { branch: 'wedges', title: 'Wedge flanges', noun: 'Wedge flange' },
  { branch: 'tools', title: 'Tools and access' },
  { branch: 'turbo', title: 'Turbo' },
  { branch: 'service', title: 'Service and mass' },
  { branch: 'bay', title: 'Bay and scan' },
  { branch: 'components', title: 'Bay components', noun: 'Component' },
  { branch: 'datums', title: 'Datum points of the scan', noun: 'Datum point' },
  { branch: 'portPoints', title: 'Points picked on ports', noun: 'Port point' },
  { branch: 'studPoints', title: 'Points picked on studs', noun: 'Stud point' },
  { branch: 'probes', title: 'Temperature probes', noun: 'Probe' },
  { branch: 'taps', title: 'Pressure taps', noun: 'Tap' },
  { branch: 'oxygenSensors', title: 'Oxygen sensors', noun: 'Sensor' },
  { branch: 'clearances', title: 'Mock-up clearances', noun: 'Clearance' },
  { branch: 'mockUpPrinter', title: 'Mock-up printer' },
  { branch: 'mockUpPieces', title: 'Mock-up pieces', noun: 'Piece' },
  { branch: 'dowels', title: 'Dowels', noun: 'Dowel' },
  { branch: 'pieces', title: 'Pieces', noun: 'Piece' },
  { branch: 'printer', title: 'Metal printer' },
  { branch: 'machinedFaces', title: 'Machined faces', noun: 'Machined face' },
  { branch: 'witnesses', title: 'Print witnesses', noun: 'Witness' },
  { branch: 'printedWalls', title: 'Printed walls', noun: 'Wall' },
  { branch: 'printedPieces', title: 'Printed pieces', noun: 'Printed piece' },
  { branch: 'faces', title: 'Flange faces', noun: 'Face' },
  { branch: 'facePoints', title: 'Readings on flange faces', noun: 'Reading' },
  { branch: 'joints', title: 'Joints', noun: 'Joint' },
  { branch: 'chains', title: 'Chains of joints', noun: 'Chain' },
  { branch: 'purges', title: 'Purge volumes', noun: 'Purge volume' },
  { branch: 'leakTest', title: 'Leak test' },
  { branch: 'retorque', title: 'Tightening after the first heat' },
  { branch: 'hotClearances', title: 'Hot clearances', noun: 'Hot clearance' },
  { branch: 'route', title: 'Route' },
  { branch: 'cutting', title: 'Cutting and stock' },
  { branch: 'stockBends', title: 'Stock bends', noun: 'Stock bend' },
  { branch: 'mitres', title: 'Mitred bends', noun: 'Mitred bend' },
  { branch: 'copes', title: 'Copes', noun: 'Cope' },
  { branch: 'materials', title: 'Own materials', noun: 'Own material' },
  { branch: 'limits', title: 'Limits set for this job', noun: 'Limit' },
  { branch: 'project', title: 'Job' },
];

/** Heading of a branch. */
export function branchTitle(branch: string): string {
  return sheetSections.find((s) => s.branch === branch)?.title ?? branch;
}
