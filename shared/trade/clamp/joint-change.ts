import { type Known, known } from '../../units/known.ts';
import { embeddingDepths, type JointRoughness } from '../data/embedding.ts';
import { type Limit, outsideLimits } from '../limits.ts';

const compliance: Limit = ['m/N', 1e-12, 1e-6];

/** Elastic compliances of stud and clamped parts, m/N. */
export interface JointCompliance {
  readonly stud: number;
  readonly parts: number;
}

/** Axial settling, m, of a joint with one thread, one nut face and `interfaces` faces between the parts. Source: {@link embeddingDepths}. */
export function embeddingDepth(roughness: JointRoughness, interfaces: number): Known<number> {
  const refused = outsideLimits('embedding-depth', { interfaces }, { interfaces: ['count', 0, 10] });
  if (refused) return refused;
  const { thread, nut, joint } = embeddingDepths[roughness];
  return known(thread + nut + interfaces * joint);
}

/** Preload lost, N, when the joint settles by `depth` (m, 0 to 0.1 mm). Source: VDI 2230, F_Z = f_Z / (delta_S + delta_P) (memory). */
export function embeddingLoss(depth: number, { stud, parts }: JointCompliance): Known<number> {
  const limits: Readonly<Record<'depth' | 'stud' | 'parts', Limit>> = {
    depth: ['length', 0, 1e-4],
    stud: compliance,
    parts: compliance,
  };
  const refused = outsideLimits('embedding-loss', { depth, stud, parts }, limits);
  return refused ?? known(depth / (stud + parts));
}

/** A length of stud or of a clamped part with its own warming: mean coefficient in 1/K, length in m, temperatures in K. */
export interface WarmedLength {
  readonly expansion: number;
  readonly length: number;
  readonly temperature: number;
  readonly referenceTemperature: number;
}

/**
 * Change of preload, N, when stud and clamped parts warm; negative when the stud outgrows what it clamps. The parts may each have a
 * temperature of their own. Source: NASA TM-106943 eq. 10 (form read in an excerpt).
 */
export function thermalPreloadChange(
  stud: WarmedLength,
  clamped: readonly WarmedLength[],
  joint: JointCompliance,
): Known<number> {
  const refused = outsideLimits('thermal-preload-change', joint, { stud: compliance, parts: compliance });
  if (refused) return refused;
  let gap = 0;
  for (const [sign, part] of [[-1, stud] as const, ...clamped.map((part) => [1, part] as const)]) {
    const wrong = outsideLimits('thermal-preload-change', part, warmedLimits);
    if (wrong) return wrong;
    gap += sign * part.expansion * part.length * (part.temperature - part.referenceTemperature);
  }
  return known(gap / (joint.stud + joint.parts));
}

const warmedLimits: Readonly<Record<keyof WarmedLength, Limit>> = {
  expansion: ['expansion', 0, 4e-5],
  length: ['length', 0, 1],
  temperature: ['temperature', 200, 1500],
  referenceTemperature: ['temperature', 200, 1500],
};
