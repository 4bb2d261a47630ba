import type { GateId } from '../spec/gateId.ts';
import type { Role } from './roles.ts';

/** How a checklist item is called in the inspection plan: work stops until signed, the party is called, or records are read afterwards. */
export type PointKind = 'hold' | 'witness' | 'review';

/** Something a person must see or do that no computation can. */
export interface ChecklistItem {
  readonly id: string;
  readonly point: PointKind;
  readonly text: string;
  /** Spec path of what is measured for it: `turbo.mass`, or `joints.*.rootGap` for every row. The value lives in the spec only. */
  readonly field?: string;
}

/** One row of the gate table. */
export interface Gate {
  readonly id: GateId;
  readonly title: string;
  readonly route: 'both' | 'printed' | 'fabricated';
  /** Roles that must each have signed, by different accounts where they differ. */
  readonly signs: readonly Role[];
  /** Gates that must be signed before, when this rule set has them in force. */
  readonly after: readonly GateId[];
  readonly items: readonly ChecklistItem[];
  /** Caution shown wherever the gate is. */
  readonly caution: string;
}

/** What is measured is read by the gate's own rules: a signature covers it anyway, and a hold asks for nothing they do not ask for. */
const item =
  (point: PointKind) =>
  (id: string, text: string, field?: string): ChecklistItem => ({ id, point, text, ...(field && { field }) });
const hold = item('hold');
const witness = item('witness');
const review = item('review');

const CHECK = 'A verdict is a check, not an approval: qualified people and local codes decide.';

/** The gates, their signers and what people must check. What people check and who signs are defaults: a job may plan its own (plan.ts). */
export const gates: readonly Gate[] = [
  {
    id: 'scan',
    title: 'Scan',
    route: 'both',
    signs: ['scanner', 'lead'],
    after: [],
    items: [
      hold('matted', 'Shiny parts matted where points were needed'),
      hold('still', 'Nothing moved between the first and the last scan'),
      witness('targets', 'Datum targets photographed'),
    ],
    caution: `Matting spray: flammable propellant, ventilate, clean before any heat. ${CHECK}`,
  },
  {
    id: 'design',
    title: 'Design',
    route: 'both',
    signs: ['designer', 'lead'],
    after: ['scan'],
    items: [
      hold('route-agreed', 'Manufacturing route agreed by shop and designer'),
      hold('turbo-measured', 'Turbo mass, arm and flange taken from the part in hand, not from a list', 'turbo.mass'),
    ],
    caution: `Hot exhaust near fuel, brake and wiring lines can start a fire or cost the brakes. ${CHECK}`,
  },
  {
    id: 'mock-up',
    title: 'Mock-up',
    route: 'both',
    signs: ['lead', 'designer'],
    after: ['design'],
    items: [
      hold('flange-on', 'Flange drops on by hand'),
      hold('nuts-started', 'Every nut started'),
      hold('hood-shut', 'Hood shut'),
      hold('tool-swing', 'Tool swing tried on every nut'),
      witness('bureau-fit', 'Whoever prints the metal saw the mock-up fit'),
      witness('gaps-felt', 'Clearances of the mock-up measured in the car', 'clearances.*.gap'),
    ],
    caution: `Keep fingers clear when the hood is closed over the mock-up. ${CHECK}`,
  },
  {
    id: 'print-release',
    title: 'Print release',
    route: 'printed',
    signs: ['printer', 'designer', 'lead'],
    after: ['mock-up'],
    items: [
      hold('certificate', 'Material certificate of the powder lot at hand'),
      hold('parameters', 'Parameter set named'),
      witness('recoater', 'Recoater direction agreed'),
    ],
    caution: `Metal powder: fire, dust and inhalation hazard; follow the powder's safety data sheet. ${CHECK}`,
  },
  {
    id: 'cut-release',
    title: 'Cut release',
    route: 'fabricated',
    signs: ['lead', 'welder'],
    after: ['mock-up'],
    items: [hold('stock', 'Stock is on the shelf and is the alloy it should be')],
    caution: `Saw and deburr with guards on; cut edges are sharp. ${CHECK}`,
  },
  {
    id: 'as-printed',
    title: 'As printed',
    route: 'printed',
    signs: ['printer', 'lead'],
    after: ['print-release'],
    items: [
      hold('penetrant', 'Dye penetrant shows nothing open'),
      hold('powder-out', 'Powder is out of every passage'),
      witness('density', 'Density witness measured', 'witnesses.*.density'),
      witness('walls', 'Walls measured at their thinnest places', 'printedWalls.*.thinnest'),
    ],
    caution: `Support teeth are razor sharp; powder dust needs extraction and a respirator. ${CHECK}`,
  },
  {
    id: 'fit-up',
    title: 'Machining and fit-up',
    route: 'both',
    signs: ['machinist', 'lead'],
    after: ['as-printed', 'cut-release'],
    items: [
      hold('faces', 'Faces clean and flat'),
      hold('purge-ready', 'Purge ports and dams ready, dams counted in'),
      witness('flatness', 'Flatness of the faces measured', 'faces.*.flatness'),
      witness('root-gaps', 'Root gap of every joint felt', 'joints.*.rootGap'),
    ],
    caution: `Argon has no smell and pools low: ventilate and measure oxygen before leaning in. ${CHECK}`,
  },
  {
    id: 'weld',
    title: 'Weld',
    route: 'both',
    signs: ['welder', 'lead'],
    after: ['fit-up'],
    items: [
      hold('cleaned', 'Joints cleaned to bright metal and degreased without chlorinated solvent'),
      hold('oxygen-read', 'Oxygen read at the vent before the arc'),
      hold('dams-out', 'Dams counted out'),
      witness('root-seen', 'Root seen'),
      witness('purge-held', 'Back purge held until the root and the first fill were in'),
      review('interpass', 'Interpass temperature of every joint read', 'joints.*.interpass'),
    ],
    caution: `Argon can suffocate without warning; nickel and chromium fume needs extraction at the source; arc light burns. ${CHECK}`,
  },
  {
    id: 'install',
    title: 'Install and first heat',
    route: 'both',
    signs: ['lead'],
    after: ['weld'],
    items: [
      hold('fire-watch', 'Fire watch with extinguisher at the first heat'),
      hold('re-torque', 'Studs tightened again after the first heat cycles', 'retorque.torque'),
      witness('leak', 'Leak test seen to its end', 'leakTest.endPressure'),
      witness('hot-gaps', 'Clearances measured hot', 'hotClearances.*.gap'),
    ],
    caution: `First start: carbon monoxide, hot surfaces, fuel. Extraction on, extinguisher at hand. ${CHECK}`,
  },
];

/** The row of a gate. */
export function gateRow(id: GateId): Gate {
  const row = gates.find((g) => g.id === id);
  if (!row) throw new Error(`gate table has no row "${id}"`);
  return row;
}
