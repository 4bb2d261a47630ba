import { defineFormula } from '../formula.ts';

/** Rise of a free end after cutting off, scaled by length from a benchmark bridge, m; a warning figure, not a prediction. */
export const riseAfterCut = defineFormula({
  id: 'rise-after-cut',
  title: 'Rise after cutting off, from a benchmark',
  inputs: {
    length: { quantity: 'length', range: [0, 2], help: 'length of the part' },
    benchmarkRise: { quantity: 'length', range: [0, 0.02], help: 'rise of the benchmark', fallback: 1.276e-3 },
    benchmarkLength: { quantity: 'length', range: [1e-3, 1], help: 'length of the benchmark', fallback: 0.075 },
  },
  output: { quantity: 'length', help: 'rise = L benchmark rise / benchmark length' },
  source: {
    document: 'NIST AMB2018-01 (IN625 bridge, no stress relief)',
    trust: 'excerpt',
    note: '1.276 mm over 75 mm; the straight scaling is own',
  },
  examples: [
    {
      inputs: { length: 75e-3, benchmarkRise: 1.276e-3, benchmarkLength: 75e-3 },
      expected: 1.276e-3,
      tolerance: 1e-9,
      source: { document: 'NIST AMB2018-01', clause: 'vectors 8.5 and WE-02', trust: 'excerpt' },
    },
  ],
  compute({ length, benchmarkRise, benchmarkLength }) {
    return (length * benchmarkRise) / benchmarkLength;
  },
});
