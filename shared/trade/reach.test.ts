import { describe, expect, it } from 'vitest';
import { formulas } from './formulas.ts';

/** `slipjoint calc` reaches formulas only. Each file of the trade holds one, or is here with why it holds none. */
const parts = 'inner part of the formulas beside it';
const many = 'takes lists or shapes that a command line cannot spell; rules and quantities ask it';
const listed = 'looks up a named row; the rules and `slipjoint materials` ask it';
const heldBy = (ids: string): string => `its results are reached by ${ids}`;

const inner: Readonly<Record<string, string>> = {
  'clamp/clamp-formulas': 'the list of the folder',
  'clamp/dowel-fit': listed,
  'clamp/gasket-loads': heldBy('gasket-running-load, gasket-seating-load, gasket-seating-width'),
  'clamp/general-tolerance': listed,
  'clamp/joint-change': many,
  'clamp/lever-clamp': heldBy('lever-gasket-force, lever-push-in'),
  'clamp/metric-thread': parts,
  'clamp/sliding-wedge': heldBy('wedge-clamp-force, wedge-release-share'),
  'clamp/wedge-block': heldBy('block-gasket-force, block-wall-force'),
  'gas/exhaust-composition': heldBy('exhaust-gas-constant, exhaust-gamma'),
  'gas/firing': many,
  'gas/gas-mixture': heldBy('exhaust-gamma, exhaust-viscosity, air-viscosity'),
  'gas/grouping': many,
  'gas/mixture-conductivity': heldBy('exhaust-conductivity, air-conductivity'),
  'gas/mixture-enthalpy': many,
  'heat/air-properties': heldBy('air-conductivity, air-density, air-viscosity'),
  'heat/bracket': parts,
  'heat/heat-formulas': 'the list of the folder',
  'heat/outside-loss': heldBy('pipe-heat-loss, pipe-outside-convection'),
  'heat/radiation': heldBy('grey-body-flux, grey-plates-flux, neighbour-irradiation'),
  'heat/required-gap': heldBy('gap-for-temperature'),
  'heat/target-temperature': heldBy('neighbour-temperature'),
  'heat/wall-balance': heldBy('bare-wall-temperature'),
  'loss/bore-roughness': listed,
  'loss/runner-loss': many,
  'metrology/circle-fit': many,
  'metrology/conformity': many,
  'metrology/cylinder-fit': many,
  'metrology/datum-frame': many,
  'metrology/deviation-statistics': many,
  'metrology/least-squares': parts,
  'metrology/matrix': parts,
  'metrology/plane-fit': many,
  'metrology/pressure-decay-leak': heldBy('decay-leak-rate'),
  'metrology/rigid-fit': many,
  'metrology/target-registration-error': many,
  'metrology/vector': parts,
  'print/bore-crown': heldBy('crown-chord'),
  'print/build-time': heldBy('print-build-time'),
  'print/deviation-summary': many,
  'print/powder-charge': heldBy('powder-charge-mass'),
  'print/print-cost': heldBy('print-core-cost'),
  'print/print-formulas': 'the list of the folder',
  'schedule/critical-path': many,
  'schedule/duration-draw': many,
  'schedule/estimate': heldBy('pert-mean, pert-deviation'),
  'schedule/fallback-start': many,
  'schedule/network': parts,
  'schedule/normal': heldBy('standard-normal, standard-normal-quantile'),
  'schedule/pert': heldBy('chance-by-date'),
  'schedule/simulation': many,
  'strength/alloy-property': listed,
  'strength/gap-bar': heldBy('gap-bar-force, gap-bar-stress'),
  'strength/pipe-wall': heldBy('ordered-pipe-wall, weld-strength-reduction'),
  'strength/rupture': listed,
  'strength/strength-formulas': 'the list of the folder',
  'strength/tube-section': heldBy('tube-area, tube-mass, tube-section-modulus'),
  'tube/bend-table': many,
  'tube/biarc': many,
  'tube/collector': heldBy('bundle-diameter, merge-length'),
  'tube/cope': many,
  'tube/cutting-stock': many,
  'tube/direction': parts,
  'tube/mitre-bend': heldBy('wedge-inner-length, wedge-outer-length'),
  'tube/tube-formulas': 'the list of the folder',
  'weld/current-window': heldBy('current-rule, start-current, tungsten-diameter'),
  'weld/filler-choice': listed,
  'weld/gas-density': heldBy('argon-density'),
  'weld/pulse-power': heldBy('mean-power-arc-energy, pulse-mean-current, pulse-mean-power'),
  'weld/test-energy': heldBy('gas-test-energy, liquid-test-energy'),
  'weld/torch-top': heldBy('torch-top-height, torch-top-offset'),
  'weld/weld-formulas': 'the list of the folder',
  'weld/weld-quality': listed,
};

// Tests are left out: to import one is to run it.
const files = Object.entries(
  import.meta.glob<Readonly<Record<string, unknown>>>(['./*/*.ts', '!./data/*', '!./*/*.test.ts'], { eager: true }),
).map(([path, exports]) => ({ file: path.replace(/^\.\/|\.ts$/g, ''), exports: Object.values(exports) }));
const ids = formulas.map(({ id }) => id);

describe('what calc reaches', () => {
  it('each file of the trade holds a formula or is here with its reason', () => {
    const without = files.filter(({ exports }) => !exports.some((one) => formulas.some((formula) => formula === one)));
    expect(without.map(({ file }) => file).sort()).toEqual(Object.keys(inner).sort());
  });

  it.each(Object.entries(inner).filter(([, why]) => why.startsWith('its results')))('%s: %s', (_, why) => {
    const named = why.replace(/^.* by /, '').split(', ');
    expect(named.filter((id) => !ids.includes(id))).toEqual([]);
  });
});
