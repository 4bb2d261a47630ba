import type { Source } from '../source.ts';

/** Surfaces with an emissivity. No page gave a total value for alloy 625 itself. */
export const emissivityKeys = [
  'aluminium-oxidised',
  'aluminium-sheet',
  'cast-iron-oxidised',
  'inconel-electropolished',
  'inconel-oxidised',
  'inconel-sandblasted',
  'nichrome-oxidised',
  'nickel-chrome-iron-oxidised',
  'paint-rubber-insulation',
  'reflective-film',
  'stainless-347-oxidised',
  'stainless-highly-oxidised',
  'stainless-lightly-oxidised',
  'steel-oxidised',
] as const;
/** Key of a row of {@link emissivities}. */
export type EmissivityKey = (typeof emissivityKeys)[number];

/** Emissivity band, dimensionless, 0 to 1. Take the high end for what radiates or must stay cool, the low end for a shield only when clean. */
export interface Emissivity {
  readonly low: number;
  readonly high: number;
  readonly source: Source;
}

/** Emissivities by surface. */
export const emissivities: Readonly<Record<EmissivityKey, Emissivity>> = {
  'aluminium-oxidised': {
    low: 0.2,
    high: 0.31,
    source: {
      document: 'LumaSense/Mikron emissivity table and Omega OS100 manual',
      clause: 'heavily oxidised, 93 to 504 C',
      trust: 'excerpt',
    },
  },
  'aluminium-sheet': {
    low: 0.09,
    high: 0.09,
    source: {
      document: 'LumaSense/Mikron emissivity table and Omega OS100 manual',
      clause: 'commercial sheet',
      trust: 'excerpt',
    },
  },
  'cast-iron-oxidised': {
    low: 0.6,
    high: 0.95,
    source: { document: 'Raytek manuals, metals emissivity table', clause: 'iron, cast, oxidised', trust: 'excerpt' },
  },
  'inconel-electropolished': {
    low: 0.15,
    high: 0.15,
    source: {
      document: 'Raytek manuals, metals emissivity table',
      clause: 'Inconel, electropolished',
      trust: 'excerpt',
    },
  },
  'inconel-oxidised': {
    low: 0.7,
    high: 0.95,
    source: {
      document: 'Raytek manuals, metals emissivity table',
      clause: 'Inconel, oxidised, 8 to 14 um (0.6 to 0.9 at 3.9 to 5 um)',
      trust: 'excerpt',
    },
  },
  'inconel-sandblasted': {
    low: 0.3,
    high: 0.6,
    source: { document: 'Raytek manuals, metals emissivity table', clause: 'Inconel, sandblasted', trust: 'excerpt' },
  },
  'nichrome-oxidised': {
    low: 0.87,
    high: 0.89,
    source: {
      document: 'LumaSense/Mikron emissivity table',
      clause: '80Ni-20Cr oxidised, 100 to 1300 C; the nearest listed to 625',
      trust: 'excerpt',
    },
  },
  'nickel-chrome-iron-oxidised': {
    low: 0.9,
    high: 0.97,
    source: {
      document: 'LumaSense/Mikron emissivity table',
      clause: '20Ni-25Cr-55Fe oxidised, 200 and 500 C',
      trust: 'excerpt',
    },
  },
  'paint-rubber-insulation': {
    low: 0.9,
    high: 0.9,
    source: {
      document: 'any heat transfer text',
      clause: 'paint of any colour, rubber, wire insulation',
      trust: 'memory',
    },
  },
  'reflective-film': {
    low: 0.05,
    high: 0.1,
    source: { document: 'any heat transfer text', clause: 'clean aluminised or gold film', trust: 'memory' },
  },
  'stainless-347-oxidised': {
    low: 0.87,
    high: 0.9,
    source: { document: 'Incropera, table A.11', clause: 'AISI 347 stably oxidised, 600 to 1200 K', trust: 'memory' },
  },
  'stainless-highly-oxidised': {
    low: 0.7,
    high: 0.7,
    source: { document: 'Incropera, table A.11', clause: 'highly oxidised, 1000 K', trust: 'uncertain' },
  },
  'stainless-lightly-oxidised': {
    low: 0.4,
    high: 0.4,
    source: { document: 'Incropera, table A.11', clause: 'lightly oxidised, 1000 K', trust: 'uncertain' },
  },
  'steel-oxidised': {
    low: 0.79,
    high: 0.79,
    source: {
      document: 'Omega OS100 and OS52x manuals, emissivity appendix',
      clause: 'steel oxidised at 600 C',
      trust: 'excerpt',
    },
  },
};
