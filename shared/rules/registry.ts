import { printDensity } from './as-printed/print-density/rule.ts';
import { printDeviation } from './as-printed/print-deviation/rule.ts';
import { wallMeasured } from './as-printed/wall-measured/rule.ts';
import { bendStockRadius } from './cut-release/bend-stock-radius/rule.ts';
import { copeValid } from './cut-release/cope-valid/rule.ts';
import { fixtureReach } from './cut-release/fixture-reach/rule.ts';
import { mitreAngle } from './cut-release/mitre-angle/rule.ts';
import { stockCoversCuts } from './cut-release/stock-covers-cuts/rule.ts';
import { straightMinimum } from './cut-release/straight-minimum/rule.ts';
import type { Rule } from './define.ts';
import { bayClearance } from './design/bay-clearance/rule.ts';
import { bendTightness } from './design/bend-tightness/rule.ts';
import { collectorMach } from './design/collector-mach/rule.ts';
import { egtPosition } from './design/egt-position/rule.ts';
import { fastenerAccess } from './design/fastener-access/rule.ts';
import { flangeBow } from './design/flange-bow/rule.ts';
import { flangeGrowth } from './design/flange-growth/rule.ts';
import { gasketStress } from './design/gasket-stress/rule.ts';
import { headerMass } from './design/header-mass/rule.ts';
import { hoodClearance } from './design/hood-clearance/rule.ts';
import { hoopStress } from './design/hoop-stress/rule.ts';
import { installPath } from './design/install-path/rule.ts';
import { mergeAngle } from './design/merge-angle/rule.ts';
import { oxygenSensorAngle } from './design/oxygen-sensor-angle/rule.ts';
import { partClearance } from './design/part-clearance/rule.ts';
import { portLeaveAngle } from './design/port-leave-angle/rule.ts';
import { portMatch } from './design/port-match/rule.ts';
import { pressureTapPosition } from './design/pressure-tap-position/rule.ts';
import { pulsePairing } from './design/pulse-pairing/rule.ts';
import { runnerClearance } from './design/runner-clearance/rule.ts';
import { runnerContinuity } from './design/runner-continuity/rule.ts';
import { runnerGrowth } from './design/runner-growth/rule.ts';
import { runnerLengthSpread } from './design/runner-length-spread/rule.ts';
import { runnerLoss } from './design/runner-loss/rule.ts';
import { runnerMach } from './design/runner-mach/rule.ts';
import { slipJointClearance } from './design/slip-joint-clearance/rule.ts';
import { studPreload } from './design/stud-preload/rule.ts';
import { threadEngagement } from './design/thread-engagement/rule.ts';
import { turboBending } from './design/turbo-bending/rule.ts';
import { turboFrequency } from './design/turbo-frequency/rule.ts';
import { turboRupture } from './design/turbo-rupture/rule.ts';
import { wallTemperature } from './design/wall-temperature/rule.ts';
import { wedgeClamp } from './design/wedge-clamp/rule.ts';
import { flangeFlatness } from './fit-up/flange-flatness/rule.ts';
import { jointGap } from './fit-up/joint-gap/rule.ts';
import { jointStep } from './fit-up/joint-step/rule.ts';
import { hotClearance } from './install/hot-clearance/rule.ts';
import { hotRetorque } from './install/hot-retorque/rule.ts';
import { leakRate } from './install/leak-rate/rule.ts';
import { dowelFit } from './mock-up/dowel-fit/rule.ts';
import { measuredVsModel } from './mock-up/measured-vs-model/rule.ts';
import { mockupPieceVolume } from './mock-up/mockup-piece-volume/rule.ts';
import { boreSupport } from './print-release/bore-support/rule.ts';
import { buildTime } from './print-release/build-time/rule.ts';
import { buildVolume } from './print-release/build-volume/rule.ts';
import { cutAllowance } from './print-release/cut-allowance/rule.ts';
import { gapMinimum } from './print-release/gap-minimum/rule.ts';
import { layerStair } from './print-release/layer-stair/rule.ts';
import { machiningStock } from './print-release/machining-stock/rule.ts';
import { meshClosed } from './print-release/mesh-closed/rule.ts';
import { overhangSupport } from './print-release/overhang-support/rule.ts';
import { powderDemand } from './print-release/powder-demand/rule.ts';
import { powderExit } from './print-release/powder-exit/rule.ts';
import { reliefOrder } from './print-release/relief-order/rule.ts';
import { wallMinimum } from './print-release/wall-minimum/rule.ts';
import { componentClass } from './scan/component-class/rule.ts';
import { portFit } from './scan/port-fit/rule.ts';
import { scanCoverage } from './scan/scan-coverage/rule.ts';
import { scanRegistration } from './scan/scan-registration/rule.ts';
import { scanSpacing } from './scan/scan-spacing/rule.ts';
import { scanUnits } from './scan/scan-units/rule.ts';
import { studFit } from './scan/stud-fit/rule.ts';
import { fillerMatch } from './weld/filler-match/rule.ts';
import { heatInput } from './weld/heat-input/rule.ts';
import { interpassTemperature } from './weld/interpass-temperature/rule.ts';
import { purgeTime } from './weld/purge-time/rule.ts';
import { shrinkageBudget } from './weld/shrinkage-budget/rule.ts';
import { tackCount } from './weld/tack-count/rule.ts';
import { torchAccess } from './weld/torch-access/rule.ts';
import { tungstenStickout } from './weld/tungsten-stickout/rule.ts';
import { weldCurrent } from './weld/weld-current/rule.ts';

/** Raised whenever a limit, a formula or the set of rules changes: signatures say which version they saw. */
export const RULE_SET = 4;

/** Every rule of this rule set, sorted by id. A meta test compares it with the folders. */
export const rules: readonly Rule[] = [
  bayClearance,
  bendStockRadius,
  bendTightness,
  boreSupport,
  buildTime,
  buildVolume,
  collectorMach,
  componentClass,
  copeValid,
  cutAllowance,
  dowelFit,
  egtPosition,
  fastenerAccess,
  fillerMatch,
  fixtureReach,
  flangeBow,
  flangeFlatness,
  flangeGrowth,
  gapMinimum,
  gasketStress,
  headerMass,
  heatInput,
  hoodClearance,
  hoopStress,
  hotClearance,
  hotRetorque,
  installPath,
  interpassTemperature,
  jointGap,
  jointStep,
  layerStair,
  leakRate,
  machiningStock,
  measuredVsModel,
  mergeAngle,
  meshClosed,
  mitreAngle,
  mockupPieceVolume,
  overhangSupport,
  oxygenSensorAngle,
  partClearance,
  portFit,
  portLeaveAngle,
  portMatch,
  powderDemand,
  powderExit,
  pressureTapPosition,
  printDensity,
  printDeviation,
  pulsePairing,
  purgeTime,
  reliefOrder,
  runnerClearance,
  runnerContinuity,
  runnerGrowth,
  runnerLengthSpread,
  runnerLoss,
  runnerMach,
  scanCoverage,
  scanRegistration,
  scanSpacing,
  scanUnits,
  shrinkageBudget,
  slipJointClearance,
  stockCoversCuts,
  straightMinimum,
  studFit,
  studPreload,
  tackCount,
  threadEngagement,
  torchAccess,
  tungstenStickout,
  turboBending,
  turboFrequency,
  turboRupture,
  wallMeasured,
  wallMinimum,
  wallTemperature,
  wedgeClamp,
  weldCurrent,
];

/** The rule with this id, or null. */
export function findRule(id: string): Rule | null {
  return rules.find((r) => r.id === id) ?? null;
}
