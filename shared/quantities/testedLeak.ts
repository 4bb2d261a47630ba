import { type Leak, type PressureDecay, pressureDecayLeak } from '../trade/metrology/pressure-decay-leak.ts';
import { at, derive, type Known, known } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** Leak found by the pressure decay test, and the readings it came from. */
export function testedLeak(context: FactContext): Known<Leak & PressureDecay> {
  const { leakTest } = context.spec;
  return context.memo('tested-leak', [leakTest], () =>
    derive(
      {
        volume: at<number>('leakTest.volume', leakTest.volume),
        startPressure: at<number>('leakTest.startPressure', leakTest.startPressure),
        endPressure: at<number>('leakTest.endPressure', leakTest.endPressure),
        startTemperature: at<number>('leakTest.startTemperature', leakTest.startTemperature),
        endTemperature: at<number>('leakTest.endTemperature', leakTest.endTemperature),
        duration: at<number>('leakTest.duration', leakTest.duration),
      },
      (readings) => derive({ leak: pressureDecayLeak(readings) }, ({ leak }) => known({ ...leak, ...readings })),
    ),
  );
}
