import type { Source } from '../source.ts';

/** Things near a header that have a highest continuous temperature. */
export const neighbourKeys = [
  'aluminium-structural',
  'brake-fluid-dot-3',
  'brake-fluid-dot-4',
  'brake-fluid-dot-5-1',
  'bushing-rubber',
  'carbon-120-cure',
  'carbon-180-cure',
  'fuel-hose-30r7',
  'fuel-hose-30r9',
  'hose-epdm',
  'hose-fkm',
  'hose-nbr',
  'hose-ptfe',
  'hose-silicone',
  'ignition-boot-silicone',
  'line-pa12',
  'line-pa66',
  'paint-air-dry',
  'paint-oem-bake',
  'powder-coat',
  'wire-iso-6722-a',
  'wire-iso-6722-b',
  'wire-iso-6722-c',
  'wire-iso-6722-d',
  'wire-iso-6722-e',
  'wire-iso-6722-f',
  'wire-iso-6722-g',
  'wire-iso-6722-h',
  'wire-j1127-sgt',
  'wire-j1127-sgx',
  'wire-j1128-pvc',
  'wire-j1128-xlpe',
  'wire-jaso-aessx',
  'wire-jaso-avss',
  'wire-jaso-avssx',
] as const;
/** Key of a row of {@link neighbourLimits}. */
export type NeighbourKey = (typeof neighbourKeys)[number];

/** Highest continuous temperature as a band, K; check with the low end unless the part's own data sheet says more. */
export interface NeighbourLimit {
  readonly low: number;
  readonly high: number;
  readonly source: Source;
}

/** The tables are in degrees Celsius. */
const C = 273.15;

/** Temperature limits by neighbour. */
export const neighbourLimits: Readonly<Record<NeighbourKey, NeighbourLimit>> = {
  'aluminium-structural': {
    low: C + 150,
    high: C + 150,
    source: { document: 'from memory, no single document', clause: '6061-T6, A356-T6, long term', trust: 'memory' },
  },
  'brake-fluid-dot-3': {
    low: C + 110,
    high: C + 110,
    source: { document: 'FMVSS 116', clause: 'wet boiling point 140 C less 30 K at the line wall', trust: 'memory' },
  },
  'brake-fluid-dot-4': {
    low: C + 125,
    high: C + 125,
    source: { document: 'FMVSS 116', clause: 'wet boiling point 155 C less 30 K at the line wall', trust: 'memory' },
  },
  'brake-fluid-dot-5-1': {
    low: C + 150,
    high: C + 150,
    source: { document: 'FMVSS 116', clause: 'wet boiling point 180 C less 30 K at the line wall', trust: 'memory' },
  },
  'bushing-rubber': {
    low: C + 100,
    high: C + 125,
    source: { document: 'common practice, no source', clause: 'EPDM or natural rubber bushing', trust: 'practice' },
  },
  'carbon-120-cure': {
    low: C + 80,
    high: C + 90,
    source: { document: 'CMH-17 rule: wet Tg less 28 K', clause: 'epoxy laminate cured at 120 C', trust: 'memory' },
  },
  'carbon-180-cure': {
    low: C + 120,
    high: C + 150,
    source: { document: 'CMH-17 rule: wet Tg less 28 K', clause: 'epoxy laminate cured at 180 C', trust: 'memory' },
  },
  'fuel-hose-30r7': {
    low: C + 125,
    high: C + 125,
    source: { document: 'SAE J30', clause: '30R7, issue dependent', trust: 'uncertain' },
  },
  'fuel-hose-30r9': {
    low: C + 150,
    high: C + 150,
    source: { document: 'SAE J30', clause: '30R9, issue dependent', trust: 'uncertain' },
  },
  'hose-epdm': {
    low: C + 125,
    high: C + 125,
    source: { document: 'SAE J20 class D-1', clause: 'coolant hose; D-3 grades 150 C', trust: 'uncertain' },
  },
  'hose-fkm': {
    low: C + 200,
    high: C + 200,
    source: { document: 'from memory, no single document', clause: '225 C for a short time', trust: 'memory' },
  },
  'hose-nbr': {
    low: C + 100,
    high: C + 100,
    source: { document: 'from memory, no single document', clause: '125 C at the peak', trust: 'memory' },
  },
  'hose-ptfe': {
    low: C + 230,
    high: C + 260,
    source: { document: 'from memory, no single document', clause: 'continuous', trust: 'memory' },
  },
  'hose-silicone': {
    low: C + 175,
    high: C + 180,
    source: {
      document: 'from memory, no single document',
      clause: 'coolant or charge hose; 200 C for a short time',
      trust: 'memory',
    },
  },
  'ignition-boot-silicone': {
    low: C + 200,
    high: C + 200,
    source: { document: 'common practice, no source', clause: 'ignition boot', trust: 'practice' },
  },
  'line-pa12': {
    low: C + 90,
    high: C + 110,
    source: { document: 'from memory, no single document', clause: 'PA11 or PA12 line', trust: 'uncertain' },
  },
  'line-pa66': {
    low: C + 120,
    high: C + 130,
    source: { document: 'from memory, no single document', clause: 'PA66', trust: 'uncertain' },
  },
  'paint-air-dry': {
    low: C + 80,
    high: C + 80,
    source: { document: 'common practice, no source', clause: 'air-dry or two-pack paint', trust: 'practice' },
  },
  'paint-oem-bake': {
    low: C + 100,
    high: C + 120,
    source: { document: 'common practice, no source', clause: 'factory baked enamel', trust: 'practice' },
  },
  'powder-coat': {
    low: C + 120,
    high: C + 150,
    source: { document: 'common practice, no source', clause: 'powder coat', trust: 'practice' },
  },
  'wire-iso-6722-a': {
    low: C + 85,
    high: C + 85,
    source: { document: 'ISO 6722, as restated in a cable specification', clause: 'class A', trust: 'excerpt' },
  },
  'wire-iso-6722-b': {
    low: C + 100,
    high: C + 100,
    source: { document: 'ISO 6722, as restated in a cable specification', clause: 'class B', trust: 'excerpt' },
  },
  'wire-iso-6722-c': {
    low: C + 125,
    high: C + 125,
    source: { document: 'ISO 6722, as restated in a cable specification', clause: 'class C', trust: 'excerpt' },
  },
  'wire-iso-6722-d': {
    low: C + 150,
    high: C + 150,
    source: { document: 'ISO 6722, as restated in a cable specification', clause: 'class D', trust: 'excerpt' },
  },
  'wire-iso-6722-e': {
    low: C + 175,
    high: C + 175,
    source: { document: 'ISO 6722, as restated in a cable specification', clause: 'class E', trust: 'excerpt' },
  },
  'wire-iso-6722-f': {
    low: C + 200,
    high: C + 200,
    source: { document: 'ISO 6722, as restated in a cable specification', clause: 'class F', trust: 'excerpt' },
  },
  'wire-iso-6722-g': {
    low: C + 225,
    high: C + 225,
    source: { document: 'ISO 6722, as restated in a cable specification', clause: 'class G', trust: 'excerpt' },
  },
  'wire-iso-6722-h': {
    low: C + 250,
    high: C + 250,
    source: { document: 'ISO 6722, as restated in a cable specification', clause: 'class H', trust: 'excerpt' },
  },
  'wire-j1127-sgt': {
    low: C + 80,
    high: C + 85,
    source: { document: 'SAE J1127', clause: 'SGT battery cable', trust: 'memory' },
  },
  'wire-j1127-sgx': {
    low: C + 125,
    high: C + 125,
    source: { document: 'SAE J1127', clause: 'SGX, STX battery cable', trust: 'memory' },
  },
  'wire-j1128-pvc': {
    low: C + 80,
    high: C + 85,
    source: { document: 'SAE J1128', clause: 'GPT, TWP, HDT; 85 C in most issues', trust: 'memory' },
  },
  'wire-j1128-xlpe': {
    low: C + 125,
    high: C + 125,
    source: { document: 'SAE J1128', clause: 'SXL, GXL, TXL', trust: 'memory' },
  },
  'wire-jaso-aessx': {
    low: C + 120,
    high: C + 120,
    source: { document: 'JASO D611', clause: 'AESSX', trust: 'excerpt' },
  },
  'wire-jaso-avss': {
    low: C + 80,
    high: C + 80,
    source: { document: 'JASO D611', clause: 'AVSS, PVC', trust: 'excerpt' },
  },
  'wire-jaso-avssx': {
    low: C + 100,
    high: C + 100,
    source: { document: 'JASO D611', clause: 'AVSSX', trust: 'excerpt' },
  },
};
