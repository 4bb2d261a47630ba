import type { GateId } from '../spec/gateId.ts';
import { type Source, sourceLine, type Trust } from '../trade/source.ts';

/** Work that can hurt people; a gate may hold several kinds of it. */
export const workSteps = ['scan', 'print', 'as-printed', 'fit-up', 'weld', 'leak-test', 'first-heat'] as const;
/** One of {@link workSteps}. */
export type WorkStep = (typeof workSteps)[number];

/** One thing that can hurt people at a step, in plain words. */
export interface Caution {
  readonly id: string;
  readonly steps: readonly WorkStep[];
  /** What it is and what to do, one or two sentences. */
  readonly words: string;
  readonly source: Source;
}

/** Stands above every list of cautions: they are no licence. */
export const CAUTION_DEFERS =
  'These are reminders, not instructions. Local law, the safety data sheets, the risk assessment of the site and qualified people (welding, pressure, gas, testing, powder) come first.';

/** What a step is called above its cautions. */
export const stepTitles: Readonly<Record<WorkStep, string>> = {
  scan: 'Scanning',
  print: 'Printing with metal powder',
  'as-printed': 'Taking the print off, and cleaning it',
  'fit-up': 'Machining and fit-up',
  weld: 'Purging and welding',
  'leak-test': 'Leak and pressure test',
  'first-heat': 'First heat and running',
};

interface Row {
  readonly id: string;
  readonly steps: readonly WorkStep[];
  readonly words: string;
  /** How far the source is to be trusted, and which it is. */
  readonly source: readonly [Trust, string];
}

const PRACTICE = 'common practice, no source';

const rows: readonly Row[] = [
  {
    id: 'argon',
    steps: ['print', 'fit-up', 'weld'],
    words:
      'ARGON SUFFOCATES WITHOUT WARNING. It has no smell, is heavier than air and collects in pits, closed bays and inside a long header. Never put your head into a purged part. Whoever runs to help dies too: ventilate first.',
    source: ['excerpt', 'HSE operational circular OC 288/6, asphyxiation hazards in welding'],
  },
  {
    id: 'oxygen-alarm',
    steps: ['print', 'fit-up', 'weld'],
    words:
      'Oxygen meter at breathing height and near the floor, alarm at 19.5 %. Let the vent end outdoors or in the extraction, shut the valve at breaks, keep cylinders out of closed rooms.',
    source: ['memory', 'OSHA 29 CFR 1910.146'],
  },
  {
    id: 'fume',
    steps: ['weld'],
    words:
      'Welding fume of nickel alloys and stainless holds nickel and hexavalent chromium, which cause cancer. Extraction at the arc first, then a respirator. Limits differ by country: 5 µg/m³ in both US and EU rules that were read.',
    source: ['excerpt', 'OSHA 29 CFR 1910.1026; Directive 2004/37/EC Annex III'],
  },
  {
    id: 'arc',
    steps: ['weld'],
    words:
      'The arc burns eyes and skin, also of those who stand by: cover all skin, shade by current, screens around. Dry gloves and a sound torch lead; high-frequency start and pacemakers do not go together.',
    source: ['memory', 'ANSI Z49.1; IEC 60974'],
  },
  {
    id: 'phosgene',
    steps: ['weld', 'fit-up'],
    words: 'No chlorinated cleaner anywhere near an arc: its vapour turns into phosgene. Let solvents dry off first.',
    source: ['memory', 'ANSI Z49.1'],
  },
  {
    id: 'thorium',
    steps: ['weld'],
    words: 'Take tungstens without thorium. Grinding dust of any tungsten is drawn off and bagged.',
    source: ['excerpt', 'AWS A5.12 note, as quoted'],
  },
  {
    id: 'hot-metal',
    steps: ['weld', 'first-heat'],
    words: 'Nickel alloy stays hot and looks cold. Mark it, and handle it only below 60 °C.',
    source: ['practice', PRACTICE],
  },
  {
    id: 'powder-fire',
    steps: ['print', 'as-printed'],
    words:
      'Metal powder and the soot in filters can burn; titanium and aluminium burn fiercely. Earth everything, never sweep or dry-vacuum, class D extinguisher at hand, no water on burning metal. Have the powder you use tested.',
    source: ['memory', 'NFPA 484; ASTM E1226'],
  },
  {
    id: 'powder-lungs',
    steps: ['print', 'as-printed'],
    words:
      'Powder with nickel, chromium or cobalt harms lungs and skin: closed handling, P3 or HEPA respirator, no food, work clothes washed apart.',
    source: ['excerpt', 'Directive 2022/431 (nickel compounds)'],
  },
  {
    id: 'laser',
    steps: ['print'],
    words: 'The laser in the machine blinds: never defeat an interlock.',
    source: ['memory', 'IEC 60825-1'],
  },
  {
    id: 'supports',
    steps: ['as-printed'],
    words: 'Supports leave razor edges and fly off: cut-resistant gloves, face shield, chisel away from the body.',
    source: ['practice', PRACTICE],
  },
  {
    id: 'ligament',
    steps: ['as-printed'],
    words: 'Stress may snap the last bit when the part is cut off the plate: clamp it, guards on, stand aside.',
    source: ['memory', 'ISO 28881'],
  },
  {
    id: 'grinding',
    steps: ['as-printed', 'fit-up'],
    words:
      'Dust from grinding nickel alloys: extraction and P3 respirator, kept apart from steel and aluminium dust. Wheels burst: guard on, eyes covered.',
    source: ['memory', 'OSHA and EU limits for nickel'],
  },
  {
    id: 'penetrant',
    steps: ['as-printed', 'weld'],
    words: 'Penetrant, developer and solvent sprays burn: ventilate, and strike no arc until all is dry.',
    source: ['excerpt', 'ISO 3452-1 (safety clause, title only)'],
  },
  {
    id: 'edges',
    steps: ['fit-up'],
    words: 'Flanges are heavy and cut edges sharp: gloves while handling, none near turning tools.',
    source: ['practice', PRACTICE],
  },
  {
    id: 'pressure',
    steps: ['leak-test'],
    words:
      'COMPRESSED AIR STORES ENERGY and throws caps. Test with water first; air only at low pressure, filled slowly, behind a barrier, with a relief valve, nobody in line with a cap.',
    source: ['excerpt', 'HSE GS4, 4th edition'],
  },
  {
    id: 'steam',
    steps: ['leak-test', 'first-heat'],
    words: 'Drain and dry all water before heat: shut in, it turns to steam.',
    source: ['practice', PRACTICE],
  },
  {
    id: 'monoxide',
    steps: ['first-heat'],
    words:
      'CARBON MONOXIDE KILLS WITHOUT SMELL. Exhaust led outdoors, alarm running, never alone. EU limit 20 ppm over 8 h, 100 ppm for short.',
    source: ['excerpt', 'Directive 2004/37/EC Annex III'],
  },
  {
    id: 'fire',
    steps: ['first-heat'],
    words:
      'The skin of the header reaches 600 to 900 °C: fuel, brake, oil and coolant lines 75 to 100 mm away or shielded, drips led elsewhere, somebody with an extinguisher watching. Hearing protection.',
    source: ['practice', PRACTICE],
  },
  {
    id: 'wrap',
    steps: ['first-heat'],
    words:
      'Insulation wrap and its fibres irritate lungs and skin, and smoke on the first heat: respirator, open doors.',
    source: ['memory', 'safety data sheets of fibre products'],
  },
  {
    id: 'matting',
    steps: ['scan'],
    words:
      'Matting spray burns and fills closed rooms with vapour: ventilate. It leaves residue: clean before any heat.',
    source: ['excerpt', 'conservation study 2023–24 (residue); safety data sheets'],
  },
];

/** Every caution, in the order it is printed. From reference notes on printing and welding, each with how far its source is to be trusted. */
export const cautions: readonly Caution[] = rows.map(({ source: [trust, document], ...row }) => ({
  ...row,
  source: { document, trust },
}));

const stepsByGate: Readonly<Partial<Record<GateId, readonly WorkStep[]>>> = {
  scan: ['scan'],
  'print-release': ['print'],
  'as-printed': ['as-printed'],
  'fit-up': ['fit-up'],
  weld: ['weld'],
  install: ['leak-test', 'first-heat'],
};

/** The dangerous work behind a gate; none where nothing hot, sharp or pressed is done. */
export function gateSteps(gate: GateId): readonly WorkStep[] {
  return stepsByGate[gate] ?? [];
}

/** What can hurt people at a step. */
export function cautionsOf(step: WorkStep): readonly Caution[] {
  return cautions.filter((caution) => caution.steps.includes(step));
}

/** A caution with where it comes from, on one line. */
export function cautionLine({ words, source }: Caution): string {
  return `${words} [${sourceLine(source)}]`;
}
