import type { Source } from '../source.ts';

/** Groups of base metals a filler is chosen by. */
export const weldMetals = [
  '304L',
  '310',
  '316L',
  '321',
  '347',
  '409',
  '625',
  '718',
  'alloy-x',
  'carbon-steel',
  'ni-cast-iron',
  'ti-2',
  'ti-6al-4v',
] as const;
/** One of {@link weldMetals}. */
export type WeldMetal = (typeof weldMetals)[number];

/** Answer of the filler table: a rod, or that the pair is not to be fusion welded. */
export type FillerAnswer =
  | {
      readonly weld: true;
      readonly first: string;
      readonly others: readonly string[];
      readonly note?: string;
      readonly source: Source;
    }
  | { readonly weld: false; readonly instead: string; readonly source: Source };

/** One row: every pair of one metal of `a` with one of `b`. */
export interface FillerRow {
  readonly a: readonly WeldMetal[];
  readonly b: readonly WeldMetal[];
  readonly answer: FillerAnswer;
}

const memory = (document: string): Source => ({ document, trust: 'memory' });
const doubtful = (document: string): Source => ({ document, trust: 'uncertain' });
const excerpt = (document: string): Source => ({ document, trust: 'excerpt' });
const nickelRods = 'AWS A5.14 practice';
const steelRods = 'AWS A5.9 practice';
const titaniumRods = 'AWS A5.16 practice';
const titanium: readonly WeldMetal[] = ['ti-2', 'ti-6al-4v'];

/** Rows in the order of search: the first that fits answers. */
export const fillerRows: readonly FillerRow[] = [
  { a: ['625'], b: ['625'], answer: { weld: true, first: 'ERNiCrMo-3', others: [], source: memory(nickelRods) } },
  {
    a: ['625'],
    b: ['718'],
    answer: {
      weld: true,
      first: 'ERNiCrMo-3',
      others: ['ERNiFeCr-2'],
      note: 'ERNiFeCr-2 if aged strength is needed',
      source: memory(nickelRods),
    },
  },
  {
    a: ['625'],
    b: ['304L', '316L', '321', '347'],
    answer: {
      weld: true,
      first: 'ERNiCrMo-3',
      others: ['ERNiCr-3', 'ER309L'],
      note: 'ERNiCr-3 for hot cyclic joints; ER309L only where cool and not critical',
      source: doubtful(nickelRods),
    },
  },
  {
    a: ['625'],
    b: ['ni-cast-iron'],
    answer: {
      weld: false,
      instead: 'V-band; ERNiCr-3 or ERNiFeMn-CI practice is to be avoided',
      source: doubtful(nickelRods),
    },
  },
  {
    a: ['625'],
    b: ['carbon-steel'],
    answer: { weld: true, first: 'ERNiCr-3', others: ['ERNiCrMo-3'], source: memory(nickelRods) },
  },
  {
    a: ['321', '347'],
    b: ['321', '347'],
    answer: {
      weld: true,
      first: 'ER347',
      others: ['ER308L'],
      note: 'niobium survives the arc, titanium does not; ER308L below about 430 C',
      source: excerpt('stainless filler pages'),
    },
  },
  {
    a: ['304L'],
    b: ['304L'],
    answer: { weld: true, first: 'ER308L', others: ['ER308LSi'], source: excerpt('stainless filler pages') },
  },
  { a: ['321'], b: ['304L'], answer: { weld: true, first: 'ER347', others: ['ER308L'], source: memory(steelRods) } },
  {
    a: ['304L', '321'],
    b: ['carbon-steel', '409'],
    answer: {
      weld: true,
      first: 'ER309L',
      others: ['ERNiCr-3'],
      note: 'ERNiCr-3 for hot cyclic joints',
      source: excerpt('stainless filler pages'),
    },
  },
  {
    a: ['409'],
    b: ['409', 'carbon-steel'],
    answer: { weld: true, first: 'ER309L', others: ['ERNiCr-3'], source: excerpt('stainless filler pages') },
  },
  { a: ['310'], b: ['310'], answer: { weld: true, first: 'ER310', others: ['ERNiCr-3'], source: memory(steelRods) } },
  {
    a: ['alloy-x'],
    b: ['alloy-x'],
    answer: { weld: true, first: 'ERNiCrMo-2', others: [], source: memory(nickelRods) },
  },
  { a: ['alloy-x'], b: ['625'], answer: { weld: true, first: 'ERNiCrMo-3', others: [], source: memory(nickelRods) } },
  {
    a: ['ti-2'],
    b: ['ti-2'],
    answer: { weld: true, first: 'ERTi-2', others: ['ERTi-1'], source: memory(titaniumRods) },
  },
  {
    a: ['ti-6al-4v'],
    b: ['ti-6al-4v'],
    answer: {
      weld: true,
      first: 'ERTi-5',
      others: ['ERTi-23', 'ERTi-2'],
      note: 'ERTi-2 for ductility',
      source: memory(titaniumRods),
    },
  },
  {
    a: titanium,
    b: weldMetals.filter((metal) => !titanium.includes(metal)),
    answer: {
      weld: false,
      instead: 'a mechanical joint: titanium forms brittle compounds with the rest',
      source: memory(titaniumRods),
    },
  },
];
