import type { Formula } from '../formula.ts';
import { crownChord } from './crown-chord.ts';
import { cutAllowance } from './cut-allowance.ts';
import { laserEnergyDensity } from './laser-energy-density.ts';
import { layerCount } from './layer-count.ts';
import { layerStepOut } from './layer-step-out.ts';
import { localOverhang } from './local-overhang.ts';
import { meltRate } from './melt-rate.ts';
import { overhangFromVertical } from './overhang-from-vertical.ts';
import { overhangOfNormal } from './overhang-of-normal.ts';
import { powderChargeMass } from './powder-charge-mass.ts';
import { printBuildTime } from './print-build-time.ts';
import { printCoreCost } from './print-core-cost.ts';
import { printTolerance } from './print-tolerance.ts';
import { printToleranceStepped } from './print-tolerance-stepped.ts';
import { riseAfterCut } from './rise-after-cut.ts';
import { scaledLength } from './scaled-length.ts';
import { shrunkLength } from './shrunk-length.ts';
import { stairHeight } from './stair-height.ts';
import { stairRoughness } from './stair-roughness.ts';
import { teardropApex } from './teardrop-apex.ts';
import { wireKerf } from './wire-kerf.ts';

/** Formulas of the print folder, sorted by id. */
export const printFormulas: readonly Formula[] = [
  crownChord,
  printCoreCost,
  powderChargeMass,
  printBuildTime,
  cutAllowance,
  layerCount,
  layerStepOut,
  localOverhang,
  meltRate,
  overhangFromVertical,
  overhangOfNormal,
  printToleranceStepped,
  printTolerance,
  riseAfterCut,
  scaledLength,
  shrunkLength,
  stairHeight,
  stairRoughness,
  teardropApex,
  wireKerf,
  laserEnergyDensity,
];
