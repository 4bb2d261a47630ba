/** Pieces of the demo job that are printed in metal, their printer and their machined faces. All data is invented; SI values. */
import type { WorkRow } from './work.ts';

const mm = 1e-3;
const hour = 3600;
const deg = Math.PI / 180;

/** Fields of the groups. */
export const printFields: Readonly<Record<string, unknown>> = {
  'printer.spaceX': 400 * mm,
  'printer.spaceY': 400 * mm,
  'printer.spaceZ': 400 * mm,
  'printer.edge': 8 * mm,
  'printer.plate': 30 * mm,
  'printer.layer': { si: 0.04 * mm, as: '40 um' },
  'printer.scanSpeed': 0.96,
  'printer.hatch': { si: 0.11 * mm, as: '110 um' },
  'printer.efficiency': 0.7,
  'printer.recoat': 10,
  'printer.overhead': { si: 3 * hour, as: '3 h' },
  'printer.longest': { si: 96 * hour, as: '96 h' },
  'printer.stock': 450,
  'printer.packing': 0.58,
  'printer.dosing': 1.5,
  'printer.separation': 'wire-erosion',
  'printer.relief': 'on-the-plate',
};

const printed = { use: 'printed', alloy: '625', lift: 5 * mm, supports: 'removable', copies: 1 };

const turned = (x: number, y: number, z: number): Readonly<Record<string, number>> => ({
  turnX: x * deg,
  turnY: y * deg,
  turnZ: z * deg,
});

/** Rows of the collections. Runner 3 is one piece and stands as it sits in the car, its bore level: one of the faults the demo is for. */
export const printRows: readonly WorkRow[] = [
  ['pieces', 'runner-5-port', { name: 'Runner 5, port end', ...printed, ...turned(101.1, 7, 8.5) }],
  ['pieces', 'runner-5-collector', { name: 'Runner 5, collector end', ...printed, ...turned(141, 23.1, 60) }],
  ['pieces', 'runner-3', { name: 'Runner 3', ...printed, ...turned(0, 0, 0) }],
  ['machinedFaces', 'head-face', { name: 'Head flange face', kind: 'long-flange', stock: 1.5 * mm }],
  ['machinedFaces', 'turbine-face', { name: 'Turbine flange face', kind: 'sealing-face', stock: 0.8 * mm }],
  ['machinedFaces', 'stud-hole', { name: 'Stud holes', kind: 'hole', stock: 1.2 * mm }],
];
