import type { Source } from '../source.ts';
import type { PrintMaterial } from './print-limits.ts';

/** Density of a solid printed metal, kg/m3. */
export interface PrintDensity {
  readonly value: number;
  readonly source: Source;
}

const excerpt = (document: string): Source => ({ document, trust: 'excerpt' });

/** Density by powder, kg/m3 at room temperature, without pores. */
export const printDensities: Readonly<Record<Exclude<PrintMaterial, 'any'>, PrintDensity>> = {
  '316L': { value: 7990, source: excerpt('maker data for 316') },
  '625': { value: 8440, source: excerpt('maker bulletin SMC-063 for alloy 625 (UNS N06625)') },
  '718': { value: 8220, source: excerpt('metal supplier data sheet for alloy 718') },
  AlSi10Mg: { value: 2670, source: { document: 'powder data sheets for AlSi10Mg', trust: 'memory' } },
  CoCr: { value: 8400, source: { document: 'powder data sheets for cobalt-chromium-molybdenum', trust: 'memory' } },
  'Ti-6Al-4V': { value: 4430, source: excerpt('public property file for Ti-6Al-4V') },
};
