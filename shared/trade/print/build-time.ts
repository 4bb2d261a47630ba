import { type Known, known } from '../../units/known.ts';
import { type Limit, outsideLimits } from '../limits.ts';
import { layerCount } from './layer-count.ts';
import { meltRate } from './melt-rate.ts';

/** One build; SI. */
export interface Build {
  readonly partVolume: number;
  readonly supportVolume: number;
  readonly height: number;
  readonly layer: number;
  /** Per layer, s; 7 to 15, usually 10. */
  readonly recoatTime: number;
  readonly scanSpeed: number;
  readonly hatch: number;
  /** Real over ideal melt rate of one laser, 0.5 to 0.8 (common practice); times the lasers. */
  readonly efficiency: number;
  /** Inerting, warm-up, cool-down, unloading, s; 2 to 6 h (common practice). */
  readonly overhead: number;
}
/** Layers and times in s. */
export interface BuildTime {
  readonly layers: number;
  readonly recoat: number;
  readonly scan: number;
  readonly total: number;
}

const limits: Readonly<Record<'partVolume' | 'supportVolume' | 'recoatTime' | 'efficiency' | 'overhead', Limit>> = {
  partVolume: ['volume', 0, 0.05],
  supportVolume: ['volume', 0, 0.05],
  recoatTime: ['time', 1, 120],
  efficiency: ['ratio', 0.05, 12],
  overhead: ['time', 0, 1e6],
};

/** Build time: scan, recoat and overhead. Source: Gibson, Rosen, Stucker, Additive Manufacturing Technologies, eq. 16.7 and 16.8 (excerpt). */
export function buildTime(build: Build): Known<BuildTime> {
  const refused = outsideLimits('build-time', build, limits);
  if (refused) return refused;
  const layers = layerCount.evaluate(build);
  if (!layers.known) return layers;
  const rate = meltRate.evaluate(build);
  if (!rate.known) return rate;
  const recoat = layers.value * build.recoatTime;
  const scan = (build.partVolume + build.supportVolume) / (build.efficiency * rate.value);
  return known({ layers: layers.value, recoat, scan, total: scan + recoat + build.overhead });
}

/** Laser energy per melted volume, J/m3; alone it does not fix quality. `power` in W (10 to 2000). Source: definition P / (v h t). */
export function energyDensity(power: number, scan: Pick<Build, 'scanSpeed' | 'hatch' | 'layer'>): Known<number> {
  const refused = outsideLimits('energy-density', { power }, { power: ['power', 10, 2000] });
  if (refused) return refused;
  const rate = meltRate.evaluate(scan);
  return rate.known ? known(power / rate.value) : rate;
}
