import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import { wedgeBlock } from '../../shared/trade/clamp/wedge-block.ts';
import { molarGasConstant, species, thermo, thermoBreak } from '../../shared/trade/data/nasa9.ts';
import { enthalpyConstants } from '../../shared/trade/data/nasa9-enthalpy.ts';
import { findFormula } from '../../shared/trade/formulas.ts';
import { speciesEnthalpy } from '../../shared/trade/gas/mixture-enthalpy.ts';
import { copeDepth, copeHole } from '../../shared/trade/tube/cope.ts';
import { mitreBend } from '../../shared/trade/tube/mitre-bend.ts';
import { apart, judgedBy, judgeOf, numbersOf } from './judge.ts';

/** Closed forms derived anew by SymPy (tests/reference/closedForms.py) against ours, on seeded cases (seed 43). */
const judge = judgeOf('./closedForms.py', ['sympy']);
const judged = judgedBy(judge);
const CASES = 40;

type Ranges = Readonly<Record<string, readonly [number, number]>>;
interface Rules {
  /** Narrower ranges; a range may only be narrowed for the reason given. */
  readonly within?: Ranges;
  readonly why?: string;
  /** Left out: only rounding may lie between. */
  readonly tolerance?: number;
}

const thread: Ranges = { diameter: [4e-3, 0.02], pitch: [2e-4, 2.5e-3] };
const threadRules = { within: thread, why: 'we carry the six digits that ISO 724 prints for sqrt(3)' };

const formulasJudged: Readonly<Record<string, Rules>> = {
  'bend-arc': {},
  'bend-chord': { within: { angle: [0, 6] }, why: 'the chord of a full circle is rounding on either side' },
  'bend-sagitta': {},
  'bend-setback': {},
  'arc-chord-error': {},
  'chord-angle-for-error': {},
  'bend-wall-outside': {},
  'bend-wall-inside': { tolerance: 1e-11 },
  'kerf-angle': {},
  'stress-area': { ...threadRules, tolerance: 2e-6 },
  'thread-shear-area': { ...threadRules, tolerance: 1e-5 },
  'vdi-tightening-torque': {
    within: thread,
    why: 'the guideline rounds 1/(2 pi) to 0.16, 1/sqrt(3) to 0.58',
    tolerance: 6e-3,
  },
  'vdi-nut-factor': { within: thread, why: 'as the torque', tolerance: 6e-3 },
  'vdi-yield-preload': { within: thread, why: 'the guideline rounds 2/sqrt(3) to 1.155', tolerance: 3e-4 },
  'wedge-clamp-force': { within: { angle: [0, 0.9] }, why: 'near 90 degrees the tangent turns rounding into anything' },
  'wedge-release-share': { within: { angle: [0, 1] }, why: 'as the clamp force', tolerance: 1e-10 },
  'wedge-locking-angle': {},
  'lame-bore-stress': { tolerance: 1e-10 },
  'lame-axial-stress': { tolerance: 1e-10 },
  'birnie-wall': { tolerance: 1e-11 },
  'flange-bow': {},
  'guided-bend-stress': {},
  'first-mode-frequency': { tolerance: 1e-11 },
  'tube-mass': { tolerance: 1e-11 },
  'tube-section-modulus': { tolerance: 1e-10 },
  'shield-ratio': {},
  'collector-loss': { within: { areaRatio: [0.2, 0.95] }, why: 'near equal areas both terms cancel', tolerance: 1e-10 },
  'mass-flow-function': {},
  'compressibility-error': {},
  'residual-oxygen': {},
  'purge-time': {
    within: { initial: [0.05, 0.25], target: [1e-5, 0.04], residual: [0, 5e-6] },
    why: 'most draws ask for more oxygen than there was',
    tolerance: 1e-10,
  },
  'teardrop-apex': {},
  'finite-wave-speed': { tolerance: 1e-11 },
  'layer-step-out': { within: { plateAngle: [0.01, 1.5] }, why: 'at 90 degrees nothing but rounding is left' },
  'stair-roughness': { within: { plateAngle: [0.01, 1.5] }, why: 'as the step-out' },
  'torch-mouth-offset': {},
  'torch-mouth-height': {
    within: { tilt: [0, 0.5], stickOut: [0.02, 0.05], cupDiameter: [3e-3, 0.02] },
    why: 'the difference may vanish',
  },
  'friction-factor': { within: { reynolds: [4001, 1e8] }, why: 'laminar flow has no implicit equation' },
};

const random = seededRandom(43);
const between = ([low, high]: readonly [number, number]): number =>
  low > 0 && high / low > 100 ? low * (high / low) ** random() : low + (high - low) * random();

interface Drawn {
  readonly id: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly ours: number;
}

/** Draws of a formula with our answers. What we refuse (a wall thicker than the tube) has no answer to compare. */
function drawn(id: string, within: Ranges): readonly Drawn[] {
  const formula = findFormula(id);
  if (!formula) throw new Error(`no formula ${id}`);
  return Array.from({ length: CASES }, () => {
    const inputs = Object.fromEntries(
      Object.entries(formula.inputs).map(([key, { range }]) => [key, between(within[key] ?? range)]),
    );
    const ours = formula.evaluate(inputs);
    return ours.known ? [{ id, inputs, ours: ours.value }] : [];
  }).flat();
}

const draws = Object.entries(formulasJudged).flatMap(([id, { within = {} }]) => drawn(id, within));
let asked: readonly unknown[] | undefined;
/** All questions at once: deriving a form costs more than evaluating it. */
function answers(): readonly unknown[] {
  asked ??= judge.ask(draws.map(({ id: kind, inputs }) => ({ kind, inputs })));
  return asked;
}

describe('formulas against forms derived by computer algebra', () => {
  for (const [id, { tolerance = 1e-12 }] of Object.entries(formulasJudged)) {
    judged(`${id} within ${tolerance}`, () => {
      const all = answers();
      let compared = 0;
      for (const [i, { inputs, ours, ...one }] of draws.entries()) {
        if (one.id !== id) continue;
        compared += 1;
        const off = apart(ours, all[i]);
        expect(off, `${JSON.stringify(inputs)}: ours ${ours}, theirs ${all[i]}`).toBeLessThanOrEqual(tolerance);
      }
      expect(compared).toBeGreaterThan(CASES / 5);
    });
  }

  it('narrows no range without saying why', () => {
    expect(Object.values(formulasJudged).filter(({ within, why }) => within !== undefined && !why)).toEqual([]);
  });
});

describe('shapes and forces against forms derived by computer algebra', () => {
  judged('wedges of a mitred bend', () => {
    const cases = Array.from({ length: CASES }, () => ({
      angle: between([0.1, 3]),
      radius: between([0.05, 0.2]),
      outsideDiameter: between([0.02, 0.09]),
      count: 2 + Math.floor(8 * random()),
    }));
    const answers = judge.ask(cases.map((inputs) => ({ kind: 'mitre-bend', inputs })));
    for (const [i, inputs] of cases.entries()) {
      const ours = mitreBend({ ...inputs, convention: 'B' });
      if (!ours.known) throw new Error(JSON.stringify(ours));
      const { centre, outer, inner, lengthRatio, endMismatch } = ours.value;
      const theirs = numbersOf(answers[i]);
      expect(apart([centre, outer, inner, lengthRatio], theirs.slice(0, 4))).toBeLessThan(1e-12);
      // One over a cosine less one: the step of a slight cut keeps fewer digits, 1e-17 m in all.
      expect(Math.abs(endMismatch - (theirs[4] ?? Number.NaN))).toBeLessThan(1e-16);
    }
  });

  judged('cut depth and hole of a coped branch', () => {
    const points = 24;
    const cases = Array.from({ length: CASES }, () => {
      const mainRadius = between([0.02, 0.06]);
      const outerRadius = mainRadius * between([0.3, 0.9]);
      const offset = (mainRadius - outerRadius) * between([-0.9, 0.9]);
      const cope = { mainRadius, outerRadius, innerRadius: 0.9 * outerRadius, angle: between([0.2, 1.5]), offset };
      const turn = Math.floor(points * random());
      return { cope, turn, phi: (2 * Math.PI * turn) / points };
    });
    const asked = cases.flatMap(({ cope, phi }) =>
      [cope.outerRadius, cope.innerRadius].map((r) => ({ kind: 'cope', inputs: { ...cope, r, phi } })),
    );
    const answers = judge.ask(asked);
    for (const [i, { cope, turn, phi }] of cases.entries()) {
      const [ours, hole] = [copeDepth(cope, phi), copeHole(cope, points)];
      if (!ours.known || !hole.known) throw new Error('expected a cope');
      const [outer] = numbersOf(answers[2 * i]);
      const [inner, along = Number.NaN, across = Number.NaN] = numbersOf(answers[2 * i + 1]);
      expect(apart([ours.value.outer, ours.value.inner], [outer, inner])).toBeLessThan(1e-12);
      expect(ours.value.governing).toBe(Math.max(ours.value.outer, ours.value.inner));
      const [x = Number.NaN, y = Number.NaN] = hole.value[turn] ?? [];
      expect(Math.max(Math.abs(x - along), Math.abs(y - across))).toBeLessThan(1e-16 + 1e-13 * cope.mainRadius);
    }
  });

  judged('forces of a wedge block', () => {
    const cases = Array.from({ length: CASES }, () => ({
      boltForce: between([100, 1e5]),
      angle: between([0.3, 1.3]),
      bevelFriction: between([0, 0.25]),
      wallFriction: between([0, 0.5]),
    }));
    const answers = judge.ask(cases.map((inputs) => ({ kind: 'wedge-block', inputs })));
    for (const [i, inputs] of cases.entries()) {
      const ours = wedgeBlock(inputs);
      if (!ours.known) throw new Error(JSON.stringify(ours));
      const { bevel, gasket, wall } = ours.value;
      expect(apart([bevel, gasket, wall], answers[i])).toBeLessThan(1e-11);
    }
  });

  judged('enthalpy of each exhaust species: the integral of its heat capacity', () => {
    const cases = species.flatMap((of) =>
      [200, 298.15, 640, 999.5, 1000.5, 1400, 3000, 6000].map((temperature) => {
        const hot = temperature >= thermoBreak;
        const [coefficients, constant] = [hot ? thermo[of].high : thermo[of].low, enthalpyConstants[of][hot ? 1 : 0]];
        return { of, inputs: { coefficients, constant, temperature } };
      }),
    );
    const answers = judge.ask(cases.map(({ inputs }) => ({ kind: 'enthalpy', inputs })));
    for (const [i, { of, inputs }] of cases.entries()) {
      const ours = speciesEnthalpy(of, inputs.temperature);
      if (!ours.known) throw new Error(JSON.stringify(ours));
      // Elements are zero at 298.15 K by definition, so to a share of RT.
      const off =
        Math.abs(ours.value / molarGasConstant - (numbersOf(answers[i])[0] ?? Number.NaN)) / inputs.temperature;
      expect(off, `${of} at ${inputs.temperature} K`).toBeLessThan(1e-12);
    }
  });
});
