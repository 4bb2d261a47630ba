import type { Formula } from '../formula.ts';
import { arcEnergy } from './arc-energy.ts';
import { arcVoltage } from './arc-voltage.ts';
import { chainShrinkage } from './chain-shrinkage.ts';
import { cupBore } from './cup-bore.ts';
import { currentRule } from './current-rule.ts';
import { heatInput } from './heat-input.ts';
import { hiLoLimit } from './hi-lo-limit.ts';
import { pulseMeanCurrent } from './pulse-mean-current.ts';
import { purgeInletVelocity } from './purge-inlet-velocity.ts';
import { purgeTime } from './purge-time.ts';
import { purgeTimePlugFlow } from './purge-time-plug-flow.ts';
import { residualOxygen } from './residual-oxygen.ts';
import { roomOxygen } from './room-oxygen.ts';
import { rootGapLimit } from './root-gap-limit.ts';
import { shrinkageHigh } from './shrinkage-high.ts';
import { shrinkageLow } from './shrinkage-low.ts';
import { stickOutLimit } from './stick-out-limit.ts';
import { tackCount } from './tack-count.ts';
import { tackSpacing } from './tack-spacing.ts';
import { thermalShrinkage } from './thermal-shrinkage.ts';
import { torchFlow } from './torch-flow.ts';
import { torchMouthHeight } from './torch-mouth-height.ts';
import { torchMouthOffset } from './torch-mouth-offset.ts';
import { wallGapForReach } from './wall-gap-for-reach.ts';

/** Formulas of the weld folder, sorted by id. */
export const weldFormulas: readonly Formula[] = [
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
];
