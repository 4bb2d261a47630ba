import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import type { Formula } from '../../shared/trade/formula.ts';
import { findFormula } from '../../shared/trade/formulas.ts';

/**
 * Independent judges, where the machine has them (Debian: python3-fluids, python3-scipy; `npm test` installs them there as root):
 * the fluids library (MIT) for pressure losses. Each case is drawn from the formula's own validity range, narrowed where the library
 * is valid in less.
 */
const PYTHON = '/usr/bin/python3';
const SCRIPT = fileURLToPath(new URL('./oracle.py', import.meta.url));
const CASES = 60;

const here = spawnSync(PYTHON, ['-c', 'import fluids, scipy']).status === 0;

/** Narrower ranges where the library's own method holds in less, and how far the two may differ. */
const judged: Readonly<
  Record<
    string,
    {
      readonly within?: Readonly<Record<string, readonly [number, number]>>;
      readonly tolerance: number;
      readonly mayChoke?: boolean;
    }
  >
> = {
  'friction-factor': { within: { reynolds: [4001, 1e8] }, tolerance: 1e-9 },
  'haaland-friction-factor': { tolerance: 1e-9 },
  // The library writes 6.97^0.9 = 5.73998 where we have the printed 5.74.
  'swamee-jain-friction-factor': { tolerance: 5e-6 },
  'rennels-bend-loss': { within: { angle: [0.05, Math.PI] }, tolerance: 1e-9 },
  'rennels-mitre-loss': { tolerance: 1e-9 },
  'isothermal-mass-flow': {
    within: {
      density: [0.2, 10],
      frictionFactor: [0.005, 0.08],
      inletPressure: [1.5e5, 5e5],
      outletPressure: [1.2e5, 1.45e5],
      length: [2, 500],
      bore: [0.02, 0.2],
    },
    tolerance: 1e-9,
    mayChoke: true,
  },
  // Our straight lines between the chart's printed points against the library's spline through them.
  'bend-loss': { within: { radiusRatio: [1, 4], angle: [(20 * Math.PI) / 180, Math.PI] }, tolerance: 0.12 },
};

function draw(
  formula: Formula,
  within: Readonly<Record<string, readonly [number, number]>>,
  random: () => number,
): Record<string, number> {
  const inputs: Record<string, number> = {};
  for (const [key, { range }] of Object.entries(formula.inputs)) {
    const [low, high] = within[key] ?? range;
    const logarithmic = low > 0 && high / low > 100;
    inputs[key] = logarithmic ? low * (high / low) ** random() : low + (high - low) * random();
  }
  return inputs;
}

function ask(cases: readonly { readonly kind: string; readonly inputs: Record<string, number> }[]): readonly number[] {
  const run = spawnSync(PYTHON, [SCRIPT], { input: JSON.stringify(cases), encoding: 'utf8' });
  if (run.status !== 0) throw new Error(`the oracle failed: ${run.stderr}`);
  return JSON.parse(run.stdout);
}

it.skipIf(!here).each(Object.keys(judged))('%s agrees with an independent library on seeded cases (seed 41)', (id) => {
  const formula = findFormula(id);
  const rules = judged[id];
  if (!formula || !rules) throw new Error(`no formula ${id}`);
  const random = seededRandom(41);
  const drawn = Array.from({ length: CASES }, () => draw(formula, rules.within ?? {}, random));
  // Choked flow is no answer on either side: ours is unknown there, the library stops.
  const inputs = rules.mayChoke ? drawn.filter((i) => formula.evaluate(i).known) : drawn;
  expect(inputs.length).toBeGreaterThan(CASES / 3);
  const answers = ask(inputs.map((i) => ({ kind: id, inputs: i })));
  for (const [i, expected] of answers.entries()) {
    const ours = formula.evaluate(inputs[i] ?? {});
    expect(ours.known, `${id} ${JSON.stringify(inputs[i])}: ${JSON.stringify(ours)}`).toBe(true);
    if (ours.known)
      expect(
        Math.abs(ours.value / expected - 1),
        `${id} ${JSON.stringify(inputs[i])}: ours ${ours.value}, theirs ${expected}`,
      ).toBeLessThan(rules.tolerance);
  }
});
