import { clampFormulas } from './clamp/clamp-formulas.ts';
import type { Formula } from './formula.ts';
import { airMassFlow } from './gas/air-mass-flow.ts';
import { airMassFlowFromFuel } from './gas/air-mass-flow-from-fuel.ts';
import { chokedMassFlow } from './gas/choked-mass-flow.ts';
import { compressibilityError } from './gas/compressibility-error.ts';
import { displacementVelocity } from './gas/displacement-velocity.ts';
import { exhaustConductivity } from './gas/exhaust-conductivity.ts';
import { exhaustDensity } from './gas/exhaust-density.ts';
import { exhaustGamma } from './gas/exhaust-gamma.ts';
import { exhaustGasConstant } from './gas/exhaust-gas-constant.ts';
import { exhaustMassFlow } from './gas/exhaust-mass-flow.ts';
import { exhaustViscosity } from './gas/exhaust-viscosity.ts';
import { finiteWaveSpeed } from './gas/finite-wave-speed.ts';
import { fuelFlowFromPower } from './gas/fuel-flow-from-power.ts';
import { fuelMassFlow } from './gas/fuel-mass-flow.ts';
import { lengthSkew } from './gas/length-skew.ts';
import { massFlowFunction } from './gas/mass-flow-function.ts';
import { meanGasVelocity } from './gas/mean-gas-velocity.ts';
import { meanMach } from './gas/mean-mach.ts';
import { soundSpeed } from './gas/sound-speed.ts';
import { valveCurtainArea } from './gas/valve-curtain-area.ts';
import { waterGasConstant } from './gas/water-gas-constant.ts';
import { waveReturnLength } from './gas/wave-return-length.ts';
import { waveTravelAngle } from './gas/wave-travel-angle.ts';
import { heatFormulas } from './heat/heat-formulas.ts';
import { bendLoss } from './loss/bend-loss.ts';
import { bendReynoldsCorrection } from './loss/bend-reynolds-correction.ts';
import { collectorLoss } from './loss/collector-loss.ts';
import { collectorPulseLoss } from './loss/collector-pulse-loss.ts';
import { craneBendLoss } from './loss/crane-bend-loss.ts';
import { craneDiffuserLoss } from './loss/crane-diffuser-loss.ts';
import { craneFrictionFactor } from './loss/crane-friction-factor.ts';
import { craneMitreLoss } from './loss/crane-mitre-loss.ts';
import { frictionFactor } from './loss/friction-factor.ts';
import { haalandFrictionFactor } from './loss/haaland-friction-factor.ts';
import { idelchikDiffuserLoss } from './loss/idelchik-diffuser-loss.ts';
import { idelchikMitreLoss } from './loss/idelchik-mitre-loss.ts';
import { isothermalMassFlow } from './loss/isothermal-mass-flow.ts';
import { itoBendLoss } from './loss/ito-bend-loss.ts';
import { junctionBranchLoss } from './loss/junction-branch-loss.ts';
import { junctionRunLoss } from './loss/junction-run-loss.ts';
import { millerMitreLoss } from './loss/miller-mitre-loss.ts';
import { relativeRoughness } from './loss/relative-roughness.ts';
import { rennelsBendLoss } from './loss/rennels-bend-loss.ts';
import { rennelsMitreLoss } from './loss/rennels-mitre-loss.ts';
import { reynoldsNumber } from './loss/reynolds-number.ts';
import { sandGrainRoughness } from './loss/sand-grain-roughness.ts';
import { straightLoss } from './loss/straight-loss.ts';
import { suddenContractionLoss } from './loss/sudden-contraction-loss.ts';
import { suddenExpansionLoss } from './loss/sudden-expansion-loss.ts';
import { swameeJainFrictionFactor } from './loss/swamee-jain-friction-factor.ts';
import { arcChordError } from './metrology/arc-chord-error.ts';
import { decayLeakRate } from './metrology/decay-leak-rate.ts';
import { fiducialRegistrationError } from './metrology/fiducial-registration-error.ts';
import { printFormulas } from './print/print-formulas.ts';
import { chanceByDate } from './schedule/chance-by-date.ts';
import { pertDeviation } from './schedule/pert-deviation.ts';
import { pertMean } from './schedule/pert-mean.ts';
import { standardNormal } from './schedule/standard-normal.ts';
import { standardNormalQuantile } from './schedule/standard-normal-quantile.ts';
import { strengthFormulas } from './strength/strength-formulas.ts';
import { tubeFormulas } from './tube/tube-formulas.ts';
import { weldFormulas } from './weld/weld-formulas.ts';

/** Every formula of the trade, sorted by id; the command line lists and evaluates these. */
export const formulas: readonly Formula[] = [
  chanceByDate,
  relativeRoughness,
  decayLeakRate,
  airMassFlow,
  airMassFlowFromFuel,
  arcChordError,
  bendLoss,
  bendReynoldsCorrection,
  chokedMassFlow,
  collectorLoss,
  collectorPulseLoss,
  compressibilityError,
  craneBendLoss,
  craneDiffuserLoss,
  craneFrictionFactor,
  craneMitreLoss,
  displacementVelocity,
  exhaustConductivity,
  exhaustDensity,
  exhaustGamma,
  exhaustGasConstant,
  exhaustMassFlow,
  exhaustViscosity,
  fiducialRegistrationError,
  finiteWaveSpeed,
  frictionFactor,
  fuelFlowFromPower,
  fuelMassFlow,
  haalandFrictionFactor,
  idelchikDiffuserLoss,
  idelchikMitreLoss,
  isothermalMassFlow,
  itoBendLoss,
  junctionBranchLoss,
  junctionRunLoss,
  lengthSkew,
  massFlowFunction,
  meanGasVelocity,
  meanMach,
  millerMitreLoss,
  pertDeviation,
  pertMean,
  rennelsBendLoss,
  rennelsMitreLoss,
  reynoldsNumber,
  sandGrainRoughness,
  soundSpeed,
  standardNormal,
  standardNormalQuantile,
  straightLoss,
  suddenContractionLoss,
  suddenExpansionLoss,
  swameeJainFrictionFactor,
  valveCurtainArea,
  waterGasConstant,
  waveReturnLength,
  waveTravelAngle,
  ...clampFormulas,
  ...heatFormulas,
  ...printFormulas,
  ...strengthFormulas,
  ...tubeFormulas,
  ...weldFormulas,
].sort((a, b) => (a.id < b.id ? -1 : 1));

/** The formula with this id; undefined when there is none. */
export function findFormula(id: string): Formula | undefined {
  return formulas.find((formula) => formula.id === id);
}
