import type { Formula } from '../formula.ts';
import { blockGasketForce } from './block-gasket-force.ts';
import { blockWallForce } from './block-wall-force.ts';
import { boltLoadShare } from './bolt-load-share.ts';
import { boltWorkingLoad } from './bolt-working-load.ts';
import { embeddingLoss } from './embedding-loss.ts';
import { flangeBow } from './flange-bow.ts';
import { gasketMeanStress } from './gasket-mean-stress.ts';
import { gasketRunningLoad } from './gasket-running-load.ts';
import { gasketSeatingLoad } from './gasket-seating-load.ts';
import { gasketSeatingWidth } from './gasket-seating-width.ts';
import { holeReach } from './hole-reach.ts';
import { hotProofLoad } from './hot-proof-load.ts';
import { leastPreload } from './least-preload.ts';
import { leverGasketForce } from './lever-gasket-force.ts';
import { leverPushIn } from './lever-push-in.ts';
import { neededStressArea } from './needed-stress-area.ts';
import { preloadAfterLoss } from './preload-after-loss.ts';
import { preloadFromTorque } from './preload-from-torque.ts';
import { proofLoad } from './proof-load.ts';
import { slotLength } from './slot-length.ts';
import { stressArea } from './stress-area.ts';
import { threadEngagement } from './thread-engagement.ts';
import { threadShearArea } from './thread-shear-area.ts';
import { torqueForPreload } from './torque-for-preload.ts';
import { vBandAxialForce } from './v-band-axial-force.ts';
import { vdiNutFactor } from './vdi-nut-factor.ts';
import { vdiTighteningTorque } from './vdi-tightening-torque.ts';
import { vdiYieldPreload } from './vdi-yield-preload.ts';
import { wedgeClampForce } from './wedge-clamp-force.ts';
import { wedgeLockingAngle } from './wedge-locking-angle.ts';
import { wedgeReleaseShare } from './wedge-release-share.ts';

/** Formulas of the clamp folder, sorted by id. */
export const clampFormulas: readonly Formula[] = [
  blockWallForce,
  blockGasketForce,
  gasketSeatingWidth,
  gasketSeatingLoad,
  gasketRunningLoad,
  leverPushIn,
  leverGasketForce,
  boltLoadShare,
  boltWorkingLoad,
  flangeBow,
  gasketMeanStress,
  holeReach,
  hotProofLoad,
  leastPreload,
  neededStressArea,
  preloadAfterLoss,
  preloadFromTorque,
  proofLoad,
  slotLength,
  stressArea,
  threadEngagement,
  threadShearArea,
  torqueForPreload,
  vBandAxialForce,
  vdiNutFactor,
  vdiTighteningTorque,
  vdiYieldPreload,
  wedgeClampForce,
  wedgeLockingAngle,
  wedgeReleaseShare,
  embeddingLoss,
];
