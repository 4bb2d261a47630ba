import { describe, expect, it } from 'vitest';
import { boltLoadShare } from '../../shared/trade/clamp/bolt-load-share.ts';
import { boltWorkingLoad } from '../../shared/trade/clamp/bolt-working-load.ts';
import { dowelFit } from '../../shared/trade/clamp/dowel-fit.ts';
import { gasketLoads } from '../../shared/trade/clamp/gasket-loads.ts';
import { gasketMeanStress } from '../../shared/trade/clamp/gasket-mean-stress.ts';
import { generalTolerance } from '../../shared/trade/clamp/general-tolerance.ts';
import { holeReach } from '../../shared/trade/clamp/hole-reach.ts';
import { leverClamp } from '../../shared/trade/clamp/lever-clamp.ts';
import { neededStressArea } from '../../shared/trade/clamp/needed-stress-area.ts';
import { preloadAfterLoss } from '../../shared/trade/clamp/preload-after-loss.ts';
import { preloadFromTorque } from '../../shared/trade/clamp/preload-from-torque.ts';
import { slidingWedge } from '../../shared/trade/clamp/sliding-wedge.ts';
import { stressArea } from '../../shared/trade/clamp/stress-area.ts';
import { threadEngagement } from '../../shared/trade/clamp/thread-engagement.ts';
import { threadShearArea } from '../../shared/trade/clamp/thread-shear-area.ts';
import { torqueForPreload } from '../../shared/trade/clamp/torque-for-preload.ts';
import { vBandAxialForce } from '../../shared/trade/clamp/v-band-axial-force.ts';
import { vdiTighteningTorque } from '../../shared/trade/clamp/vdi-tightening-torque.ts';
import { vdiYieldPreload } from '../../shared/trade/clamp/vdi-yield-preload.ts';
import { raisedBlock, wedgeBlock } from '../../shared/trade/clamp/wedge-block.ts';
import { dowelHoles } from '../../shared/trade/data/dowel-bands.ts';
import {
  flatnessTolerances,
  linearTolerances,
  perpendicularityTolerances,
  weldmentFlatness,
} from '../../shared/trade/data/general-tolerances.ts';
import { benchmarkBridge } from '../../shared/trade/data/print-limits.ts';
import { threadKeys, threads } from '../../shared/trade/data/threads.ts';
import { alloyProperty } from '../../shared/trade/strength/alloy-property.ts';
import { birnieWall } from '../../shared/trade/strength/birnie-wall.ts';
import { boreVolume } from '../../shared/trade/strength/bore-volume.ts';
import { cantileverBendingStress } from '../../shared/trade/strength/cantilever-bending-stress.ts';
import { constrainedStress } from '../../shared/trade/strength/constrained-stress.ts';
import { differentialGrowth } from '../../shared/trade/strength/differential-growth.ts';
import { firstModeFrequency } from '../../shared/trade/strength/first-mode-frequency.ts';
import { freeGrowth } from '../../shared/trade/strength/free-growth.ts';
import { hoopStress } from '../../shared/trade/strength/hoop-stress.ts';
import { lameAxialStress } from '../../shared/trade/strength/lame-axial-stress.ts';
import { lameBoreStress } from '../../shared/trade/strength/lame-bore-stress.ts';
import { larsonMillerParameter } from '../../shared/trade/strength/larson-miller-parameter.ts';
import { pipeWall } from '../../shared/trade/strength/pipe-wall.ts';
import { lifeAtStress, ruptureStress } from '../../shared/trade/strength/rupture.ts';
import { slipJointLoss } from '../../shared/trade/strength/slip-joint-loss.ts';
import { thinCylinderWall } from '../../shared/trade/strength/thin-cylinder-wall.ts';
import { tubeMass } from '../../shared/trade/strength/tube-mass.ts';
import { tubeSection } from '../../shared/trade/strength/tube-section.ts';
import { mechanicsCases } from './mechanicsCases.ts';
import { expectNear, knownValue } from './nearness.ts';
import { expectCase, numberOf, type ReferenceCase, type Solver, wordOf } from './referenceCase.ts';

const C = 273.15;
const mm = 1e-3;
const MPa = 1e6;
const hour = 3600;
const degree = Math.PI / 180;
const poundForce = 4.4482216152605;
const poundInch = 0.1129848290276167;

/** Expected values that are not met, each with why. */
const leftOut: Readonly<Record<string, string>> = {
  '1.5 s625_MPa':
    'the page extrapolates: parameter 23 952 lies below the first 625 point; refused here (see rupture.test.ts)',
  '1.5 ratio': 'needs the extrapolated 625 stress',
  '1.6 s625_MPa': 'the page extrapolates: parameter 25 041 lies below the first 625 point 25 084; refused here',
  '1.6 ratio': 'needs the extrapolated 625 stress',
  '2.27 P_b_N': 'the book adds up a closed joint, but its joint opens by 71 N: the bolt carries 10 kN',
};

const tube = (c: ReferenceCase) => ({
  outsideDiameter: numberOf(c, 'D') * mm,
  wall: numberOf(c, 't') * mm,
  density: 8440,
});

const property: Solver = (c) => {
  const at = (key: 'conductivity' | 'heatCapacity' | 'expansion' | 'modulus', unit: number) =>
    knownValue(alloyProperty('625', key, numberOf(c, 'T_C') + C)) / unit;
  return {
    k_W_mK: at('conductivity', 1),
    cp_J_kgK: at('heatCapacity', 1),
    alpha_mean_1e6: at('expansion', 1e-6),
    E_GPa: at('modulus', 1e9),
  };
};

const rupture: Solver = (c) => {
  const temperature = numberOf(c, 'T_C') + C;
  const life = numberOf(c, 't_h') * hour;
  const s625 = ruptureStress('625', temperature, life);
  const s304 = knownValue(ruptureStress('304', temperature, life));
  return {
    LMP: knownValue(larsonMillerParameter.evaluate({ temperature, life })),
    s304_MPa: s304 / MPa,
    ...(s625.known ? { s625_MPa: s625.value / MPa, ratio: s625.value / s304 } : {}),
  };
};

const area: Solver = (c) => {
  const diameter = numberOf(c, 'd') * mm;
  const key = threadKeys.find((each) => each === wordOf(c, 'thread')) ?? 'M6';
  return {
    As_mm2: knownValue(stressArea.evaluate({ diameter, pitch: numberOf(c, 'P') * mm })) * 1e6,
    As_table_mm2: threads[key].stressArea * 1e6,
  };
};

const assembly: Solver = (c) => {
  const joint = {
    diameter: numberOf(c, 'd') * mm,
    pitch: numberOf(c, 'P') * mm,
    threadFriction: numberOf(c, 'mu'),
  };
  const preload = knownValue(
    vdiYieldPreload.evaluate({ ...joint, yieldStrength: numberOf(c, 'Rp02') * MPa, utilisation: 0.9 }),
  );
  const bearingDiameter = ((numberOf(c, 'dw') + numberOf(c, 'dh')) / 2) * mm;
  const torque = knownValue(
    vdiTighteningTorque.evaluate({ ...joint, preload, headFriction: joint.threadFriction, bearingDiameter }),
  );
  const { F_M_kN, M_A_Nm, F_table_kN } = c.expected;
  expectNear(preload, Number(F_M_kN) * 1e3, 1e-6);
  expectNear(preload, Number(F_table_kN) * 1e3, 5e-3);
  expectNear(torque, Number(M_A_Nm), 1e-6);
  return { F_M_kN: preload / 1e3, M_A_Nm: torque, F_table_kN: preload / 1e3, M_table_Nm: torque };
};

const torque: Solver = (c) => ({
  T_Nm: knownValue(
    torqueForPreload.evaluate({
      preload: numberOf(c, 'F_N'),
      nutFactor: numberOf(c, 'K'),
      diameter: numberOf(c, 'd_mm') * mm,
    }),
  ),
});

const scatter: Solver = (c) => {
  const diameter = numberOf(c, 'd_in') * 0.0254;
  const nominal = knownValue(
    preloadFromTorque.evaluate({ torque: numberOf(c, 'T_inlb') * poundInch, nutFactor: numberOf(c, 'K'), diameter }),
  );
  const least = nominal * (1 - numberOf(c, 'scatter'));
  const left = knownValue(preloadAfterLoss.evaluate({ preload: least, lostShare: numberOf(c, 'loss') }));
  return {
    F_nom_lbf: nominal / poundForce,
    F_max_lbf: (nominal * (1 + numberOf(c, 'scatter'))) / poundForce,
    F_min_lbf: least / poundForce,
    F_min_after_loss_lbf: left / poundForce,
  };
};

const loadedBolt: Solver = (c) => {
  // Bolt of diameter 1 in a ring of outside diameter 2: sections as 1 to 3.
  const share = knownValue(
    boltLoadShare.evaluate({
      boltModulus: numberOf(c, 'E_b') * MPa,
      boltArea: 1e-4,
      jointModulus: numberOf(c, 'E_c') * MPa,
      jointArea: 3e-4,
    }),
  );
  const [preload, load] = [numberOf(c, 'Pi_kN') * 1e3, numberOf(c, 'P_kN') * 1e3];
  expect(knownValue(boltWorkingLoad.evaluate({ preload, load, loadShare: share }))).toBe(load);
  const closed = preload + share * load;
  expectNear(closed, Number(c.expected.P_b_N), 1e-6);
  const needed = neededStressArea.evaluate({
    load: closed,
    yieldStrength: numberOf(c, 'Syt') * MPa,
    safetyFactor: numberOf(c, 'fs'),
  });
  return { C: share, A_core_mm2: knownValue(needed) * 1e6 };
};

const engagement: Solver = (c) => {
  const thread = { diameter: numberOf(c, 'd') * mm, pitch: numberOf(c, 'P') * mm };
  const perLength = knownValue(threadShearArea.evaluate(thread));
  const length = knownValue(
    threadEngagement.evaluate({
      stressArea: knownValue(stressArea.evaluate(thread)),
      tensileStrength: numberOf(c, 'Rm') * MPa,
      shearStrength: numberOf(c, 'tau') * MPa,
      shearAreaPerLength: perLength,
    }),
  );
  return { area_per_mm: perLength / mm, Le_mm: length / mm, Le_over_d: length / thread.diameter };
};

const wedge1: Solver = (c) => {
  const got = knownValue(slidingWedge(numberOf(c, 'P_N'), numberOf(c, 'alpha_deg') * degree, numberOf(c, 'mu')));
  return { N_N: got.clamp, release_per_N: got.releaseShare, self_locking: got.selfLocking };
};

const wedge2: Solver = (c) => {
  const friction = numberOf(c, 'mu');
  const got = knownValue(
    wedgeBlock({
      boltForce: numberOf(c, 'F_b_N'),
      angle: numberOf(c, 'alpha_deg') * degree,
      bevelFriction: friction,
      wallFriction: friction,
    }),
  );
  return {
    R_N: got.bevel,
    N_gasket_N: got.gasket,
    H_lateral_N: got.wall,
    check_N_plus_muH: got.gasket + friction * got.wall,
  };
};
const wedge3: Solver = (c) => {
  const got = knownValue(
    leverClamp({
      boltForce: numberOf(c, 'F_b_N'),
      boltDistance: numberOf(c, 'b_mm') * mm,
      gasketDistance: numberOf(c, 'g_mm') * mm,
      angle: numberOf(c, 'alpha_deg') * degree,
      friction: numberOf(c, 'mu'),
    }),
  );
  return {
    N_gasket_N: got.gasket,
    W_wedge_N: got.ledge,
    lateral_push_in_N: got.pushIn,
    lateral_to_hold_N: got.hold,
    mu_gasket_needed: got.gasketFrictionNeeded,
  };
};

const lifted: Solver = (c) => {
  const got = knownValue(
    raisedBlock({
      load: numberOf(c, 'W_kN') * 1e3,
      angle: numberOf(c, 'wedge_deg') * degree,
      frictionAngle: numberOf(c, 'phi_deg') * degree,
    }),
  );
  return { R1_kN: got.wall / 1e3, R2_kN: got.bevel / 1e3, P_kN: got.push / 1e3 };
};

const band: Solver = (c) => ({
  W_N: knownValue(
    vBandAxialForce.evaluate({
      bandTension: numberOf(c, 'T_N'),
      halfAngle: numberOf(c, 'theta_deg') * degree,
      friction: numberOf(c, 'mu'),
    }),
  ),
});

const ring: Solver = (c) => {
  const got = knownValue(
    gasketLoads({
      insideDiameter: numberOf(c, 'ID') * mm,
      outsideDiameter: numberOf(c, 'OD') * mm,
      factor: numberOf(c, 'm'),
      seatingStress: numberOf(c, 'y_MPa') * MPa,
      pressure: numberOf(c, 'p_MPa') * MPa,
    }),
  );
  return {
    b: got.width / mm,
    G: got.diameter / mm,
    H_N: got.endForce,
    Hp_N: got.contactForce,
    Wm1_N: got.running,
    Wm2_N: got.seating,
  };
};

const meanStress: Solver = (c) => ({
  sigma_MPa:
    knownValue(
      gasketMeanStress.evaluate({
        clampForce: numberOf(c, 'F_total_N'),
        insideDiameter: numberOf(c, 'ID') * mm,
        outsideDiameter: numberOf(c, 'OD') * mm,
      }),
    ) / MPa,
});

const flange: Solver = (c) => {
  const cold = numberOf(c, 'T0') + C;
  const length = numberOf(c, 'L') * mm;
  const grown = (expansion: number, temperature: number) =>
    knownValue(freeGrowth.evaluate({ expansion, length, temperature, referenceTemperature: cold })) / mm;
  const difference = knownValue(
    differentialGrowth.evaluate({
      flangeExpansion: numberOf(c, 'alpha_f'),
      flangeTemperature: numberOf(c, 'Tf') + C,
      headExpansion: numberOf(c, 'alpha_h'),
      headTemperature: numberOf(c, 'Th') + C,
      distance: length,
      referenceTemperature: cold,
    }),
  );
  const reach = holeReach.evaluate({
    clearance: 0.5 * mm,
    positionError: 0.1 * mm,
    growthPerLength: Math.abs(difference) / length,
  });
  return {
    flange_mm: grown(numberOf(c, 'alpha_f'), numberOf(c, 'Tf') + C),
    head_mm: grown(numberOf(c, 'alpha_h'), numberOf(c, 'Th') + C),
    diff_mm: difference / mm,
    per_end_mm: difference / 2 / mm,
    max_half_length_M8_in_9mm: knownValue(reach) / mm,
  };
};

const heldBar: Solver = (c) => {
  const bar = {
    expansion: numberOf(c, 'alpha'),
    temperature: 283.15 + numberOf(c, 'dT'),
    referenceTemperature: 283.15,
  };
  const stress = constrainedStress.evaluate({ ...bar, modulus: numberOf(c, 'E') * MPa });
  const growth = freeGrowth.evaluate({ ...bar, length: numberOf(c, 'L') * mm });
  return { sigma_MPa: knownValue(stress) / MPa, free_growth_mm: knownValue(growth) / mm };
};

const heldTube: Solver = (c) => ({
  sigma_MPa:
    knownValue(
      constrainedStress.evaluate({
        modulus: numberOf(c, 'E_GPa') * 1e9,
        expansion: numberOf(c, 'alpha'),
        temperature: 293.15 + numberOf(c, 'dT'),
        referenceTemperature: 293.15,
      }),
    ) / MPa,
});

const firstYield: Solver = (c) => {
  const perKelvin = constrainedStress.evaluate({
    modulus: numberOf(c, 'E') * MPa,
    expansion: numberOf(c, 'alpha'),
    temperature: 294.15,
    referenceTemperature: 293.15,
  });
  return { dT_K: (numberOf(c, 'Sy') * MPa) / knownValue(perKelvin) };
};

const slip: Solver = (c) => {
  const length = numberOf(c, 'd') * mm;
  const [maleExpansion, femaleExpansion] = [numberOf(c, 'a_m'), numberOf(c, 'a_f')];
  const grown = (expansion: number, temperature: number) =>
    knownValue(freeGrowth.evaluate({ expansion, length, temperature, referenceTemperature: 20 + C })) / mm;
  const loss = slipJointLoss.evaluate({
    diameter: length,
    maleExpansion,
    maleTemperature: 850 + C,
    femaleExpansion,
    femaleTemperature: 600 + C,
    referenceTemperature: 20 + C,
  });
  return {
    male_mm: grown(maleExpansion, 850 + C),
    female_mm: grown(femaleExpansion, 600 + C),
    loss_mm: knownValue(loss) / mm,
  };
};

const vessel: Solver = (c) => {
  const bore = Math.cbrt((4 * numberOf(c, 'V_m3')) / (Math.PI * numberOf(c, 'ratio')));
  const length = numberOf(c, 'ratio') * bore;
  expectNear(knownValue(boreVolume.evaluate({ bore, length })), numberOf(c, 'V_m3'), 1e-12);
  const wall = thinCylinderWall.evaluate({
    pressure: numberOf(c, 'p') * MPa,
    bore,
    allowableStress: (numberOf(c, 'Sut') / numberOf(c, 'fs')) * MPa,
  });
  return { Di_mm: bore / mm, L_mm: length / mm, t_mm: knownValue(wall) / mm };
};

const openPipe: Solver = (c) => ({
  t_mm:
    knownValue(
      birnieWall.evaluate({
        pressure: numberOf(c, 'p') * MPa,
        bore: numberOf(c, 'Di') * mm,
        allowableStress: (numberOf(c, 'Syt') / numberOf(c, 'fs')) * MPa,
        poisson: numberOf(c, 'nu'),
      }),
    ) / mm,
});

const thick: Solver = (c) => ({
  hoop_ri: knownValue(
    lameBoreStress.evaluate({
      pressure: numberOf(c, 'p'),
      innerRadius: numberOf(c, 'ri'),
      outerRadius: numberOf(c, 'ro'),
    }),
  ),
});

const pressed: Solver = (c) => {
  const { outsideDiameter, wall } = tube(c);
  const pressure = numberOf(c, 'p') * MPa;
  const radii = { pressure, innerRadius: outsideDiameter / 2 - wall, outerRadius: outsideDiameter / 2 };
  return {
    hoop_mean: knownValue(hoopStress.evaluate({ pressure, outsideDiameter, wall })) / MPa,
    hoop_lame: knownValue(lameBoreStress.evaluate(radii)) / MPa,
    longitudinal: knownValue(lameAxialStress.evaluate(radii)) / MPa,
  };
};

const code: Solver = (c) => {
  const got = knownValue(
    pipeWall({
      pressure: numberOf(c, 'P') * MPa,
      outsideDiameter: numberOf(c, 'D') * mm,
      allowableStress: numberOf(c, 'S') * MPa,
      jointQuality: numberOf(c, 'E'),
      weldStrength: numberOf(c, 'W'),
      coefficient: numberOf(c, 'Y'),
      allowance: numberOf(c, 'c') * mm,
      millTolerance: numberOf(c, 'mill_tol'),
    }),
  );
  return { t: got.pressure / mm, t_m: got.least / mm, t_nominal_min: got.ordered / mm };
};

const section: Solver = (c) => {
  const got = knownValue(tubeSection(tube(c)));
  return {
    A: got.area * 1e6,
    I: got.secondMoment * 1e12,
    Z: got.sectionModulus * 1e9,
    kg_per_m_625: got.massPerLength,
  };
};

const overhung: Solver = (c) => {
  const { sectionModulus } = knownValue(tubeSection({ outsideDiameter: 48.3 * mm, wall: 2 * mm, density: 8440 }));
  const arm = numberOf(c, 'L') * mm;
  const stress = knownValue(
    cantileverBendingStress.evaluate({
      dynamicFactor: numberOf(c, 'g'),
      mass: numberOf(c, 'M_kg'),
      arm,
      sectionModulus,
      unsupportedShare: 1,
    }),
  );
  const moment = stress * sectionModulus;
  return { F_N: moment / arm, M_Nm: moment, sigma_b: stress / MPa };
};

const firstMode: Solver = (c) => {
  const stock = tube(c);
  const modulus = numberOf(c, 'E_MPa') * MPa;
  const length = numberOf(c, 'L') * mm;
  const { secondMoment } = knownValue(tubeSection(stock));
  const frequency = firstModeFrequency.evaluate({ ...stock, modulus, length, tipMass: numberOf(c, 'M_kg') });
  return {
    k_N_mm: (3 * modulus * secondMoment) / length ** 3 / 1e3,
    m_tube_kg: knownValue(tubeMass.evaluate({ ...stock, length })),
    f_Hz: knownValue(frequency),
  };
};

const bar: Solver = (c) => {
  // A round bar with the radius of gyration of the square one: d/4 = b/sqrt(12).
  const outsideDiameter = ((4 * numberOf(c, 'b')) / Math.sqrt(12)) * mm;
  const rayleigh = knownValue(
    firstModeFrequency.evaluate({
      modulus: numberOf(c, 'E') * MPa,
      outsideDiameter,
      wall: outsideDiameter / 2,
      length: numberOf(c, 'L') * mm,
      density: numberOf(c, 'rho'),
      tipMass: 0,
    }),
  );
  return { f_rayleigh: rayleigh, f_exact: (rayleigh * 3.516) / Math.sqrt((3 * 140) / 33) };
};

const parameter: Solver = (c) => ({
  LMP: knownValue(
    larsonMillerParameter.evaluate({ temperature: numberOf(c, 'T_C') + C, life: numberOf(c, 't_h') * hour }),
  ),
});

const life: Solver = (c) => {
  const temperature = numberOf(c, 'T_C') + C;
  const seconds = knownValue(lifeAtStress('625', numberOf(c, 'sigma') * MPa, temperature));
  return { t_h: seconds / hour, LMP: knownValue(larsonMillerParameter.evaluate({ temperature, life: seconds })) };
};

const fit: Solver = (c) => {
  const hole = dowelHoles.find((each) => each === wordOf(c, 'hole')) ?? 'H7';
  const got = knownValue(dowelFit(numberOf(c, 'd') * mm, hole));
  return { max_clear_um: got.greatest * 1e6, min_clear_um: got.least * 1e6 };
};

const solvers: readonly (readonly [ids: string, solve: Solver])[] = [
  ['1.1 1.2', property],
  ['1.4', (c) => ({ k_W_mK: knownValue(alloyProperty('304', 'conductivity', numberOf(c, 'T_C') + C)) })],
  ['1.5 1.6 1.8 1.9 1.10', rupture],
  ['2.2 2.3 2.4 2.6 2.7', area],
  ['2.8 2.10 2.11 2.12 2.14 2.15 2.16 2.18 2.19 2.20 2.22', assembly],
  ['2.23 2.24', torque],
  ['2.26', scatter],
  ['2.27', loadedBolt],
  ['2.28', engagement],
  ['3.2 3.3 3.4 3.6 3.7', wedge1],
  ['3.8 3.10 3.11', wedge2],
  ['3.12', wedge3],
  ['3.14', lifted],
  ['3.15', band],
  ['4.1 4.3 4.4', ring],
  ['4.5', meanStress],
  ['5.1 5.2 5.3', flange],
  ['5.5', heldBar],
  ['5.6', heldTube],
  ['5.7', firstYield],
  ['5.9', slip],
  ['6.1', vessel],
  ['6.2', openPipe],
  ['6.4', thick],
  ['6.5', pressed],
  ['6.6 6.8', code],
  ['6.9 6.10 6.12', section],
  ['6.13 6.14', overhung],
  ['6.16 6.17', firstMode],
  ['6.18', bar],
  ['6.20 6.21', parameter],
  ['6.22 6.24', life],
  ['7.1 7.2 7.4 7.5 7.6 7.8 7.9 7.10 7.12', fit],
  ['8.1', (c) => ({ tol_mm: knownValue(generalTolerance(linearTolerances.m, numberOf(c, 'nominal_mm') * mm)) / mm })],
  [
    '8.2',
    (c) => ({
      flatness: knownValue(generalTolerance(flatnessTolerances.K, numberOf(c, 'L') * mm)) / mm,
      perpendicularity: knownValue(generalTolerance(perpendicularityTolerances.K, numberOf(c, 'L') * mm)) / mm,
    }),
  ],
  [
    '8.4',
    (c) => ({
      E: knownValue(generalTolerance(weldmentFlatness.E, numberOf(c, 'l') * mm)) / mm,
      F: knownValue(generalTolerance(weldmentFlatness.F, numberOf(c, 'l') * mm)) / mm,
    }),
  ],
  ['8.5', () => ({ deflection_mm: benchmarkBridge.rise625 / mm })],
];

const solverOf = new Map(solvers.flatMap(([ids, solve]) => ids.split(' ').map((id) => [id, solve] as const)));

describe('worked cases of materials and mechanics', () => {
  it.each(mechanicsCases.map((each) => [each.id, each.what, each.source, each] as const))(
    '%s %s (%s)',
    (id, _w, _s, each) => {
      const solve = solverOf.get(id);
      if (!solve) throw new Error(`no solver for case ${id}`);
      const skipped = Object.keys(leftOut).flatMap((key) =>
        key.startsWith(`${id} `) ? [key.slice(id.length + 1)] : [],
      );
      expectCase(each, solve, skipped);
    },
  );

  it('covers all 82 cases, each once, and leaves out only what it names', () => {
    const ids = mechanicsCases.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toHaveLength(82);
    expect([...solverOf.keys()].sort()).toEqual([...ids].sort());
    const values = mechanicsCases.flatMap(({ id, expected }) => Object.keys(expected).map((key) => `${id} ${key}`));
    expect(values).toEqual(expect.arrayContaining(Object.keys(leftOut)));
    for (const why of Object.values(leftOut)) expect(why.length).toBeGreaterThan(20);
  });
});
