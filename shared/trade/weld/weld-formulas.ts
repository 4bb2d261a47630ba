import type { Formula } from '../formula.ts';
import { arcEnergy } from './arc-energy.ts';
import { arcVoltage } from './arc-voltage.ts';
import { argonDensity } from './argon-density.ts';
import { chainShrinkage } from './chain-shrinkage.ts';
import { cupBore } from './cup-bore.ts';
import { currentRule } from './current-rule.ts';
import { gasTestEnergy } from './gas-test-energy.ts';
import { heatInput } from './heat-input.ts';
import { hiLoLimit } from './hi-lo-limit.ts';
import { liquidTestEnergy } from './liquid-test-energy.ts';
import { meanPowerArcEnergy } from './mean-power-arc-energy.ts';
import { pulseMeanCurrent } from './pulse-mean-current.ts';
import { pulseMeanPower } from './pulse-mean-power.ts';
import { purgeInletVelocity } from './purge-inlet-velocity.ts';
import { purgeTime } from './purge-time.ts';
import { purgeTimePlugFlow } from './purge-time-plug-flow.ts';
import { residualOxygen } from './residual-oxygen.ts';
import { roomOxygen } from './room-oxygen.ts';
import { rootGapLimit } from './root-gap-limit.ts';
import { shrinkageHigh } from './shrinkage-high.ts';
import { shrinkageLow } from './shrinkage-low.ts';
import { startCurrent } from './start-current.ts';
import { stickOutLimit } from './stick-out-limit.ts';
import { tackCount } from './tack-count.ts';
import { tackSpacing } from './tack-spacing.ts';
import { thermalShrinkage } from './thermal-shrinkage.ts';
import { torchFlow } from './torch-flow.ts';
import { torchMouthHeight } from './torch-mouth-height.ts';
import { torchMouthOffset } from './torch-mouth-offset.ts';
import { torchTopHeight } from './torch-top-height.ts';
import { torchTopOffset } from './torch-top-offset.ts';
import { tungstenDiameter } from './tungsten-diameter.ts';
import { wallGapForReach } from './wall-gap-for-reach.ts';

/** Formulas of the weld folder, sorted by id. */
export const weldFormulas: readonly Formula[] = [
  argonDensity,
  torchTopHeight,
  torchTopOffset,
  tungstenDiameter,
  startCurrent,
  meanPowerArcEnergy,
  pulseMeanPower,
  arcEnergy,
  arcVoltage,
  chainShrinkage,
  cupBore,
  currentRule,
  heatInput,
  hiLoLimit,
  pulseMeanCurrent,
  purgeInletVelocity,
  purgeTimePlugFlow,
  purgeTime,
  residualOxygen,
  roomOxygen,
  rootGapLimit,
  shrinkageHigh,
  shrinkageLow,
  stickOutLimit,
  tackCount,
  tackSpacing,
  thermalShrinkage,
  torchFlow,
  torchMouthHeight,
  torchMouthOffset,
  wallGapForReach,
  gasTestEnergy,
  liquidTestEnergy,
];
