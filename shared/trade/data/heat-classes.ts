import type { Source } from '../source.ts';

/** What a bay component can stand, coarsely. */
export const heatClassKeys = [
  'bare-metal',
  'brake-line',
  'composite-panel',
  'hose',
  'oil-backed-cover',
  'painted-panel',
  'steering',
  'structure',
  'wiring',
] as const;
/** Key of a row of {@link heatClasses}. */
export type HeatClassKey = (typeof heatClassKeys)[number];

/** Clearance from an unshielded hot part; m. A default the project may edit, never a substitute for a temperature check. */
export interface HeatClass {
  readonly clearance: number;
  readonly source: Source;
}

const mm = 1e-3;
const truckTable: Source = {
  document: 'truck body-builder manual 2010, table 9-1 (distances from exhaust and turbocharger)',
  trust: 'excerpt',
  note: '3 in unshielded, 2 in shielded; table read from flattened text',
};
const turboManual: Source = {
  document: 'turbocharger installation manual, p. 5',
  clause: 'at least 1 in to any structural member',
  trust: 'excerpt',
};

/** Clearances by heat class. */
export const heatClasses: Readonly<Record<HeatClassKey, HeatClass>> = {
  'bare-metal': {
    clearance: 10 * mm,
    source: {
      document: 'common practice, no source',
      trust: 'practice',
      note: 'contact and rock only; 10 to 15 mm finger clearance is usual',
    },
  },
  'brake-line': {
    clearance: 75 * mm,
    source: {
      document: 'common practice, no source',
      trust: 'practice',
      note: '75 mm bare exhaust to a brake or fuel hard line; a vehicle inspection code (COMAR 11.22.02.11) rejects below 38 mm',
    },
  },
  'composite-panel': {
    clearance: 100 * mm,
    source: {
      document: 'common practice, no source',
      trust: 'practice',
      note: '100 mm bare; 25 to 40 mm with shield and vent',
    },
  },
  hose: { clearance: 3 * 25.4 * mm, source: truckTable },
  'oil-backed-cover': {
    clearance: 25 * mm,
    source: {
      document:
        'own steady heat balance, 50.8 mm pipe at 700 C, bare aluminium cover (emissivity 0.2) wetted by oil at 110 C',
      trust: 'own',
      note: '142 C at 25 mm, inside the 150 C long-term limit of cast aluminium; a dark cover does not pass at this distance',
    },
  },
  'painted-panel': {
    clearance: 100 * mm,
    source: {
      document: 'common practice, no source',
      trust: 'practice',
      note: '100 mm bare; 25 to 40 mm with shield and vent',
    },
  },
  steering: {
    clearance: 25.4 * mm,
    source: {
      ...turboManual,
      trust: 'practice',
      note: 'published for structure; applied to steering shafts without boots or joints, shield those',
    },
  },
  structure: { clearance: 25.4 * mm, source: turboManual },
  wiring: { clearance: 3 * 25.4 * mm, source: truckTable },
};
