import type { Formula } from '../formula.ts';
import { birnieWall } from './birnie-wall.ts';
import { boreVolume } from './bore-volume.ts';
import { cantileverBendingStress } from './cantilever-bending-stress.ts';
import { constrainedStress } from './constrained-stress.ts';
import { constrainedStressBiaxial } from './constrained-stress-biaxial.ts';
import { differentialGrowth } from './differential-growth.ts';
import { firingFrequency } from './firing-frequency.ts';
import { firstModeFrequency } from './first-mode-frequency.ts';
import { freeGrowth } from './free-growth.ts';
import { gapBarForce } from './gap-bar-force.ts';
import { gapBarStress } from './gap-bar-stress.ts';
import { guidedBendStress } from './guided-bend-stress.ts';
import { hoopStress } from './hoop-stress.ts';
import { lameAxialStress } from './lame-axial-stress.ts';
import { lameBoreStress } from './lame-bore-stress.ts';
import { larsonMillerParameter } from './larson-miller-parameter.ts';
import { orderedPipeWall } from './ordered-pipe-wall.ts';
import { ruptureUtilisation } from './rupture-utilisation.ts';
import { slipJointHotClearance } from './slip-joint-hot-clearance.ts';
import { slipJointLoss } from './slip-joint-loss.ts';
import { thinCylinderWall } from './thin-cylinder-wall.ts';
import { tubeArea } from './tube-area.ts';
import { tubeMass } from './tube-mass.ts';
import { tubeSectionModulus } from './tube-section-modulus.ts';
import { vibrationAmplification } from './vibration-amplification.ts';
import { wallGradientStress } from './wall-gradient-stress.ts';
import { weldStrengthReduction } from './weld-strength-reduction.ts';

/** Formulas of the strength folder, sorted by id. */
export const strengthFormulas: readonly Formula[] = [
  tubeArea,
  weldStrengthReduction,
  orderedPipeWall,
  gapBarForce,
  gapBarStress,
  birnieWall,
  boreVolume,
  cantileverBendingStress,
  constrainedStressBiaxial,
  constrainedStress,
  differentialGrowth,
  firingFrequency,
  firstModeFrequency,
  freeGrowth,
  guidedBendStress,
  hoopStress,
  lameAxialStress,
  lameBoreStress,
  larsonMillerParameter,
  ruptureUtilisation,
  slipJointHotClearance,
  slipJointLoss,
  thinCylinderWall,
  tubeMass,
  tubeSectionModulus,
  vibrationAmplification,
  wallGradientStress,
];
