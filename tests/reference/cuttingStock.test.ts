import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import {
  bestCutPlan,
  bestFitDecreasing,
  type CutJob,
  type CutPlan,
  cutBounds,
  firstFitDecreasing,
} from '../../shared/trade/tube/cutting-stock.ts';
import { knownValue } from './nearness.ts';

const list = (text: string) => text.split(',').map(Number);

/** Scholl, Klein, Juergens, BISON, 1997, data set 1: capacity 100, 50 pieces; first-fit decreasing, optimum and bound as on the page. */
const scholl: readonly (readonly [
  name: string,
  pieces: string,
  firstFit: number,
  best: number,
  bound: number | null,
])[] = [
  [
    'n1c1w1_a',
    '99,99,96,96,92,92,91,88,87,86,85,76,74,72,69,67,67,62,61,56,52,51,49,46,44,42,40,40,33,33,30,30,29,28,28,27,25,24,23,22,21,20,17,14,13,11,10,7,7,3',
    25,
    25,
    null,
  ],
  [
    'n1c1w1_b',
    '100,99,97,97,97,93,93,92,92,88,83,83,79,76,76,75,72,71,70,69,67,66,63,62,62,61,61,51,50,44,44,43,43,40,39,37,37,30,23,20,19,18,17,15,14,13,13,12,8,8',
    31,
    31,
    null,
  ],
  [
    'n1c1w1_c',
    '92,89,87,84,82,82,81,75,73,71,67,67,63,59,57,56,52,49,48,47,46,41,39,38,36,35,34,34,30,29,26,21,20,19,18,15,15,13,11,10,10,10,9,8,8,7,6,6,6,3',
    21,
    20,
    null,
  ],
  [
    'n1c1w1_i',
    '95,92,87,87,85,84,83,79,77,77,75,73,69,68,65,63,63,62,61,58,57,52,50,44,43,40,40,38,38,38,35,33,33,32,31,29,27,24,24,22,19,19,18,16,14,11,6,4,3,2',
    25,
    25,
    24,
  ],
  [
    'n1c1w1_k',
    '96,91,91,89,87,85,84,83,82,79,78,77,77,75,75,70,68,66,64,62,62,56,53,51,44,41,40,38,38,36,34,31,30,29,28,27,26,23,17,16,15,14,14,12,11,10,8,8,4,2',
    26,
    26,
    25,
  ],
];

/** Falkenauer t60_00 (OR-Library), from memory, sum 20 000 checked: capacity 1000, all triples. */
const triples = list(
  '495,474,473,472,466,450,445,444,439,430,419,414,410,395,372,370,366,366,366,363,361,357,355,351,350,350,347,320,315,307,303,299,298,298,292,288,287,283,275,275,274,273,273,272,272,271,269,269,268,263,262,261,259,258,255,254,252,252,252,251',
);

/** Every piece once, no length overfull. */
function expectPlan(plan: CutPlan, { stock, pieces, kerf }: CutJob): void {
  expect(plan.flat().sort((a, b) => a - b)).toEqual(pieces.map((_, i) => i));
  for (const length of plan) {
    const used = length.reduce((sum, piece) => sum + (pieces[piece] ?? Number.NaN) + kerf, -kerf);
    expect(used).toBeLessThanOrEqual(stock * (1 + 1e-9));
  }
}

describe('published instances (E-39)', () => {
  it.each(scholl)('%s', (_name, text, firstFit, best, bound) => {
    const job = { stock: 100, pieces: list(text), kerf: 0 };
    expect(job.pieces).toHaveLength(50);
    const [quick, exact] = [knownValue(firstFitDecreasing(job)), knownValue(bestCutPlan(job))];
    expectPlan(quick, job);
    expectPlan(exact, job);
    expect([quick.length, exact.length]).toEqual([firstFit, best]);
    const { volume, largePieces } = knownValue(cutBounds(job));
    expect(Math.max(volume, largePieces)).toBeLessThanOrEqual(best);
    if (bound !== null) expect(largePieces).toBe(bound);
  });

  it('t60_00: both heuristics need 23, the best plan 20', () => {
    const job = { stock: 1000, pieces: triples, kerf: 0 };
    expect(triples.reduce((sum, piece) => sum + piece, 0)).toBe(20_000);
    expect(knownValue(firstFitDecreasing(job))).toHaveLength(23);
    expect(knownValue(bestFitDecreasing(job))).toHaveLength(23);
    const exact = knownValue(bestCutPlan(job));
    expect(exact).toHaveLength(20);
    expectPlan(exact, job);
  });

  // Own, verified by exhaustive search: 180 degree bends, no kerf.
  it('bends as angles: first-fit needs 3 returns, two are enough', () => {
    const degree = Math.PI / 180;
    const job = { stock: Math.PI, pieces: [60, 52, 52, 45, 45, 45, 30, 22].map((a) => a * degree), kerf: 0 };
    expect(knownValue(firstFitDecreasing(job))).toHaveLength(3);
    const exact = knownValue(bestCutPlan(job));
    expect(exact).toHaveLength(2);
    expectPlan(exact, job);
  });
});

describe('cutting', () => {
  it('the last cut of a length costs nothing, the others do', () => {
    const plan = (stock: number) => knownValue(bestCutPlan({ stock, pieces: [1, 1, 1], kerf: 0.1 })).length;
    expect([plan(3.2), plan(3.19)]).toEqual([1, 2]);
  });

  it('of 150 seeded small jobs: bounds, best and heuristics in order, and the best is that of trying everything', () => {
    const random = seededRandom(42);
    for (let i = 0; i < 150; i++) {
      const pieces = Array.from({ length: 2 + Math.floor(random() * 6) }, () => 0.1 + 0.8 * random());
      const job = { stock: 1, pieces, kerf: 0.02 * random() };
      const { volume, largePieces } = knownValue(cutBounds(job));
      const plans = [firstFitDecreasing(job), bestFitDecreasing(job), bestCutPlan(job)].map(knownValue);
      for (const plan of plans) expectPlan(plan, job);
      const [first = 0, best = 0, exact = 0] = plans.map(({ length }) => length);
      expect(exact).toBeGreaterThanOrEqual(Math.max(volume, largePieces));
      expect(Math.min(first, best)).toBeGreaterThanOrEqual(exact);
      expect(first).toBeLessThanOrEqual((11 / 9) * exact + 6 / 9 + 1e-9);
      expect(exact).toBe(fewest(job));
    }
  });

  it('no pieces need no stock; bad jobs and too little effort are refused with a reason', () => {
    expect(knownValue(bestCutPlan({ stock: 1, pieces: [], kerf: 0 }))).toEqual([]);
    for (const [job, word] of [
      [{ stock: 1, pieces: [1.1], kerf: 0 }, 'piece 1'],
      [{ stock: 1, pieces: [0.5, 0], kerf: 0 }, 'piece 2'],
      [{ stock: 0, pieces: [], kerf: 0 }, 'stock'],
      [{ stock: 1, pieces: [], kerf: -1 }, 'kerf'],
      [{ stock: 1, pieces: [Number.NaN], kerf: 0 }, 'piece 1'],
      [{ stock: 1, pieces: Array.from({ length: 501 }, () => 0.1), kerf: 0 }, '500'],
    ] as const) {
      for (const got of [firstFitDecreasing(job), bestFitDecreasing(job), bestCutPlan(job), cutBounds(job)]) {
        expect(got).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
        expect(JSON.stringify(got)).toContain(word);
      }
    }
    const spent = bestCutPlan({ stock: 1000, pieces: triples, kerf: 0 }, 50);
    expect(spent).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(JSON.stringify(spent)).toContain('50 steps');
  });
});

/** Fewest lengths by trying every place of every piece. */
function fewest({ stock, pieces, kerf }: CutJob): number {
  let least = pieces.length;
  const place = (next: number, room: readonly number[]) => {
    if (room.length >= least && next < pieces.length) return;
    if (next === pieces.length) {
      least = Math.min(least, room.length);
      return;
    }
    const need = (pieces[next] ?? 0) + kerf;
    for (const [i, left] of room.entries())
      if (left >= need - 1e-12)
        place(
          next + 1,
          room.map((r, k) => (k === i ? r - need : r)),
        );
    place(next + 1, [...room, stock + kerf - need]);
  };
  place(0, []);
  return least;
}
