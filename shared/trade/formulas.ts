import { hotProofLoad } from './clamp/hot-proof-load.ts';
import { preloadFromTorque } from './clamp/preload-from-torque.ts';
import { proofLoad } from './clamp/proof-load.ts';
import { stressArea } from './clamp/stress-area.ts';
import { torqueForPreload } from './clamp/torque-for-preload.ts';
import type { Formula } from './formula.ts';
import { airMassFlow } from './gas/air-mass-flow.ts';
import { exhaustDensity } from './gas/exhaust-density.ts';
import { exhaustGamma } from './gas/exhaust-gamma.ts';
import { exhaustGasConstant } from './gas/exhaust-gas-constant.ts';
import { exhaustMassFlow } from './gas/exhaust-mass-flow.ts';
import { exhaustViscosity } from './gas/exhaust-viscosity.ts';
import { fuelMassFlow } from './gas/fuel-mass-flow.ts';
import { meanGasVelocity } from './gas/mean-gas-velocity.ts';
import { meanMach } from './gas/mean-mach.ts';
import { soundSpeed } from './gas/sound-speed.ts';
import { bendLoss } from './loss/bend-loss.ts';
import { bendReynoldsCorrection } from './loss/bend-reynolds-correction.ts';
import { frictionFactor } from './loss/friction-factor.ts';
import { reynoldsNumber } from './loss/reynolds-number.ts';
import { straightLoss } from './loss/straight-loss.ts';
import { cantileverBendingStress } from './strength/cantilever-bending-stress.ts';
import { differentialGrowth } from './strength/differential-growth.ts';
import { freeGrowth } from './strength/free-growth.ts';
import { hoopStress } from './strength/hoop-stress.ts';
import { tubeSectionModulus } from './strength/tube-section-modulus.ts';
import { bendTightness } from './tube/bend-tightness.ts';
import { bendWallOutside } from './tube/bend-wall-outside.ts';
import { arcEnergy } from './weld/arc-energy.ts';
import { heatInput } from './weld/heat-input.ts';
import { purgeTime } from './weld/purge-time.ts';
import { purgeTimePlugFlow } from './weld/purge-time-plug-flow.ts';

/** Every formula of the trade, sorted by id; the command line lists and evaluates these. */
export const formulas: readonly Formula[] = [
  airMassFlow,
  arcEnergy,
  bendLoss,
  bendReynoldsCorrection,
  bendTightness,
  bendWallOutside,
  cantileverBendingStress,
  differentialGrowth,
  exhaustDensity,
  exhaustGamma,
  exhaustGasConstant,
  exhaustMassFlow,
  exhaustViscosity,
  freeGrowth,
  frictionFactor,
  fuelMassFlow,
  heatInput,
  hoopStress,
  hotProofLoad,
  meanGasVelocity,
  meanMach,
  preloadFromTorque,
  proofLoad,
  purgeTime,
  purgeTimePlugFlow,
  reynoldsNumber,
  soundSpeed,
  straightLoss,
  stressArea,
  torqueForPreload,
  tubeSectionModulus,
];

/** The formula with this id; undefined when there is none. */
export function findFormula(id: string): Formula | undefined {
  return formulas.find((formula) => formula.id === id);
}
