import type { Formula } from '../formula.ts';
import { airConductivity } from './air-conductivity.ts';
import { airDensity } from './air-density.ts';
import { airViscosity } from './air-viscosity.ts';
import { bareWallTemperature } from './bare-wall-temperature.ts';
import { boreHeatTransfer } from './bore-heat-transfer.ts';
import { churchillChuNusselt } from './churchill-chu-nusselt.ts';
import { dittusBoelterNusselt } from './dittus-boelter-nusselt.ts';
import { gapForTemperature } from './gap-for-temperature.ts';
import { gnielinskiNusselt } from './gnielinski-nusselt.ts';
import { greyBodyFlux } from './grey-body-flux.ts';
import { greyPlatesFlux } from './grey-plates-flux.ts';
import { neighbourIrradiation } from './neighbour-irradiation.ts';
import { neighbourTemperature } from './neighbour-temperature.ts';
import { pipeHeatLoss } from './pipe-heat-loss.ts';
import { pipeOutsideConvection } from './pipe-outside-convection.ts';
import { shieldRatio } from './shield-ratio.ts';
import { viewFactorCylinder } from './view-factor-cylinder.ts';
import { viewFactorDisk } from './view-factor-disk.ts';
import { viewFactorDisks } from './view-factor-disks.ts';
import { viewFactorRod } from './view-factor-rod.ts';
import { viewFactorShortCylinder } from './view-factor-short-cylinder.ts';
import { viewFactorSphere } from './view-factor-sphere.ts';

/** Formulas of the heat folder, sorted by id. */
export const heatFormulas: readonly Formula[] = [
  airConductivity,
  airDensity,
  airViscosity,
  bareWallTemperature,
  boreHeatTransfer,
  churchillChuNusselt,
  dittusBoelterNusselt,
  gapForTemperature,
  gnielinskiNusselt,
  greyBodyFlux,
  greyPlatesFlux,
  neighbourIrradiation,
  neighbourTemperature,
  pipeHeatLoss,
  pipeOutsideConvection,
  shieldRatio,
  viewFactorCylinder,
  viewFactorDisk,
  viewFactorDisks,
  viewFactorRod,
  viewFactorShortCylinder,
  viewFactorSphere,
];
