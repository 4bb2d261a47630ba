import type { Source } from '../source.ts';
import type { ThreadKey } from './threads.ts';

/** A band, low to high. */
export type Band = readonly [number, number];

/** Ways of tightening with a tightening factor. */
export const tighteningMethods = ['calibrated-torque', 'estimated-friction', 'impact'] as const;
/** One of {@link tighteningMethods}. */
export type TighteningMethod = (typeof tighteningMethods)[number];

/** alpha_A, greatest over least preload. Source: {@link tighteningSource}. */
export const tighteningFactors: Readonly<Record<TighteningMethod, Band>> = {
  'calibrated-torque': [1.4, 1.6],
  'estimated-friction': [1.6, 2],
  impact: [2.5, 4],
};
/** Where {@link tighteningFactors} come from. */
export const tighteningSource: Source = {
  document: 'VDI 2230 sheet 1',
  clause: 'table A8',
  trust: 'memory',
  note: 'a published page uses 1.8',
};

/** States of a thread with a nut factor. */
export const lubrications = [
  'black-oxide-oil',
  'copper-paste',
  'dry-steel',
  'moly-paste',
  'nickel-paste',
  'ptfe',
  'stainless-paste',
  'zinc-oil',
] as const;
/** One of {@link lubrications}. */
export type Lubrication = (typeof lubrications)[number];

/** Nut factor K by state of the thread, with where it comes from. */
export const nutFactors: Readonly<Record<Lubrication, { readonly band: Band; readonly source: Source }>> = {
  'black-oxide-oil': { band: [0.15, 0.18], source: { document: 'bolting guide, preload basics', trust: 'excerpt' } },
  'copper-paste': { band: [0.13, 0.16], source: { document: 'common practice, no source', trust: 'practice' } },
  'dry-steel': { band: [0.2, 0.25], source: { document: 'bolting guide, preload basics', trust: 'excerpt' } },
  'moly-paste': { band: [0.1, 0.14], source: { document: 'common practice, no source', trust: 'practice' } },
  'nickel-paste': { band: [0.13, 0.18], source: { document: 'common practice, no source', trust: 'practice' } },
  ptfe: { band: [0.1, 0.14], source: { document: 'bolting guide, preload basics', trust: 'excerpt' } },
  'stainless-paste': { band: [0.14, 0.18], source: { document: 'bolting guide, preload basics', trust: 'excerpt' } },
  'zinc-oil': { band: [0.18, 0.22], source: { document: 'bolting guide, preload basics', trust: 'excerpt' } },
};

/** Share of proof load aimed at, cold. */
export const preloadTargets = { reopened: 0.75, permanent: 0.9 } as const;
/** Where {@link preloadTargets} come from. */
export const preloadTargetsSource: Source = {
  document: 'Shigley, mechanical engineering design',
  trust: 'memory',
  note: 'an engine maker manual also asks about 75 %',
};
/** Share of the HOT yield aimed at in exhaust studs; relaxation takes the rest. Source: common practice. */
export const hotStudTarget: Band = [0.5, 0.7];

/** Bearing face under a hexagon head or nut and its clearance hole, m. */
export interface BearingFace {
  readonly faceDiameter: number;
  readonly holeDiameter: number;
}
/** Bearing faces by thread diameter. Source: ISO 4014 minimum d_w, ISO 273 medium d_h, from memory; they reproduce a published torque table. */
export const bearingFaces: Readonly<Partial<Record<ThreadKey, BearingFace>>> = {
  M6: { faceDiameter: 8.88e-3, holeDiameter: 6.6e-3 },
  M8: { faceDiameter: 11.63e-3, holeDiameter: 9e-3 },
  M8x1: { faceDiameter: 11.63e-3, holeDiameter: 9e-3 },
  M10: { faceDiameter: 14.63e-3, holeDiameter: 11e-3 },
  M10x1: { faceDiameter: 14.63e-3, holeDiameter: 11e-3 },
  'M10x1.25': { faceDiameter: 14.63e-3, holeDiameter: 11e-3 },
  M12: { faceDiameter: 16.63e-3, holeDiameter: 13.5e-3 },
  'M12x1.25': { faceDiameter: 16.63e-3, holeDiameter: 13.5e-3 },
  'M12x1.5': { faceDiameter: 16.63e-3, holeDiameter: 13.5e-3 },
};
