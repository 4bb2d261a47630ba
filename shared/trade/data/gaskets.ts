import type { Source } from '../source.ts';
import type { Band } from './tightening.ts';

/** Gaskets with a factor and a seating stress; the family first, then the metal. `corrugated` is the closest to an embossed multilayer one. */
export const gasketKeys = [
  'corrugated-aluminium',
  'corrugated-copper',
  'corrugated-filled-aluminium',
  'corrugated-filled-copper',
  'corrugated-filled-iron',
  'corrugated-filled-nickel-copper',
  'corrugated-filled-stainless',
  'corrugated-iron',
  'corrugated-nickel-copper',
  'corrugated-stainless',
  'graphite-sheet',
  'grooved-aluminium',
  'grooved-copper',
  'grooved-iron',
  'grooved-nickel-copper',
  'grooved-stainless',
  'jacketed-aluminium',
  'jacketed-chrome-steel',
  'jacketed-copper',
  'jacketed-iron',
  'jacketed-nickel-copper',
  'jacketed-stainless',
  'solid-aluminium',
  'solid-copper',
  'solid-iron',
  'solid-nickel-copper',
  'solid-stainless',
  'spiral-wound',
] as const;
/** Key of a row of {@link gaskets}. */
export type GasketKey = (typeof gasketKeys)[number];

/** Gasket factor m and seating stress y (Pa). */
export interface GasketRow {
  readonly factor: number;
  readonly seatingStress: number;
}

const psi = 6894.757293168361;
const row = (factor: number, pounds: number): GasketRow => ({ factor, seatingStress: pounds * psi });

/** m and y by gasket; `nickel-copper` stands for nickel-copper and 4 to 6 % chromium, `stainless` for stainless and nickel alloys. */
export const gaskets: Readonly<Record<GasketKey, GasketRow>> = {
  'corrugated-aluminium': row(2.75, 3700),
  'corrugated-copper': row(3, 4500),
  'corrugated-filled-aluminium': row(2.5, 2900),
  'corrugated-filled-copper': row(2.75, 3700),
  'corrugated-filled-iron': row(3, 4500),
  'corrugated-filled-nickel-copper': row(3.25, 5500),
  'corrugated-filled-stainless': row(3.5, 6500),
  'corrugated-iron': row(3.25, 5500),
  'corrugated-nickel-copper': row(3.5, 6500),
  'corrugated-stainless': row(3.75, 7600),
  'graphite-sheet': row(2.0, 2500),
  'grooved-aluminium': row(3.25, 5500),
  'grooved-copper': row(3.5, 6500),
  'grooved-iron': row(3.75, 7600),
  'grooved-nickel-copper': row(3.75, 9000),
  'grooved-stainless': row(4.25, 10100),
  'jacketed-aluminium': row(3.25, 5500),
  'jacketed-chrome-steel': row(3.75, 9000),
  'jacketed-copper': row(3.5, 6500),
  'jacketed-iron': row(3.75, 7600),
  'jacketed-nickel-copper': row(3.5, 8000),
  'jacketed-stainless': row(3.75, 9000),
  'solid-aluminium': row(4, 8800),
  'solid-copper': row(4.75, 13000),
  'solid-iron': row(5.5, 18000),
  'solid-nickel-copper': row(6, 21800),
  'solid-stainless': row(6.5, 26000),
  'spiral-wound': row(3.0, 10000),
};

/** Where {@link gaskets} come from. */
export const gasketsSource: Source = {
  document: 'ASME BPVC VIII-1 appendix 2, table 2-5.1',
  trust: 'excerpt',
  note: 'three makers print it alike; design numbers, not assembly stress. Graphite 2000 to 3000 psi by maker, spiral wound 5000 to 7500 in low-stress makes. Soft copper means annealed',
};

/** Practical mean stress on a gasket, Pa; the upper end is null where none was found. */
export interface GasketWindow {
  readonly least: number;
  readonly greatest: number | null;
  readonly source: Source;
}

const forum: Source = { document: 'practitioner forum on gasket stress', trust: 'excerpt' };

/** Practical windows by kind of gasket. No published leak limit of an exhaust joint was found: never a gate. */
export const gasketWindows: Readonly<
  Record<'graphite-sheet' | 'multilayer' | 'soft-iron' | 'spiral-wound', GasketWindow>
> = {
  'graphite-sheet': { least: 34.5e6, greatest: 103e6, source: forum },
  multilayer: {
    least: 20e6,
    greatest: 60e6,
    source: {
      document: 'common practice, no source',
      trust: 'uncertain',
      note: 'mean over the bead band; line load 50 to 150 N/mm',
    },
  },
  'soft-iron': { least: 138e6, greatest: null, source: forum },
  'spiral-wound': { least: 69e6, greatest: null, source: { ...forum, note: '103 MPa with an inner ring' } },
};

/** Greatest bearing stress on an aluminium head under a flange, Pa; low and high end of what is quoted. Source: memory, doubtful. */
export const headBearingLimit: Band = [150e6, 200e6];

/** Constants of the tightness method: Gb (Pa), a, Gs (Pa). Source: maker page on the PVRC constants (excerpt). */
export const tightnessConstants = {
  'spiral-wound': { seating: 2300 * psi, exponent: 0.237, unloading: 13 * psi },
  'corrugated-stainless': { seating: 4700 * psi, exponent: 0.15, unloading: 130 * psi },
  'corrugated-copper': { seating: 1500 * psi, exponent: 0.24, unloading: 430 * psi },
} as const;
