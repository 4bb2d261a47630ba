import { testedLeak } from '../../../quantities/testedLeak.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Pa.m3/s of one litre a minute at 101325 Pa. */
const litrePerMinute = (1e-3 / 60) * 101325;
const slipLimit = 20 * litrePerMinute;
const slipAdvisory = 5 * litrePerMinute;
const weldedLimit = 0.01;
/** How far the two temperatures together can be off, K. */
const temperatureUncertainty = 0.2;

/** Leak of the finished header from a pressure decay test, corrected for the change of temperature. */
export const leakRate = defineRule({
  id: 'leak-rate',
  gate: 'install',
  title: 'Limit the leak of the finished header',
  severity: 'block',
  adjustable: false,
  branches: ['leakTest'],
  cost: 'cheap',
  quantity: 'leakRate',
  limit: 'welded 0.01 Pa.m3/s (0.1 mbar.L/s); with slip joints 33.8 Pa.m3/s (20 L/min), caution above 8.4 (5 L/min)',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'slip joints 5 to 20 L/min of air at 0.3 bar; welded: own, the least a shop can tell from a change of 0.2 K',
  },
  validity:
    'Cold, air, closed volume, ideal gas; leaks change with heat. Pressure change method (EN 13184, from memory).',
  hazard:
    'A leak ahead of the turbine blows hot gas at what is near it, and carbon monoxide into the bay and the cabin.',
  remedy: 'Find the place with bubble fluid, grind out and weld again; then test again.',
  messages: { decay: 'The change of temperature alone is {thermal:pressure} of pressure.' },
  since: 1,
  subjects: (): readonly Subject[] => [{ kind: 'job', id: 'header', name: 'Leak test' }],
  reads: (context) => ({
    leak: testedLeak(context),
    joints: at('leakTest.joints', context.spec.leakTest.joints),
  }),
  evaluate: ({ leak, joints }) => {
    const slips = joints === 'slip-joints';
    // What the temperatures leave open, and 5 % of a limit from practice.
    const open = (leak.volume * leak.perKelvin * temperatureUncertainty) / leak.duration;
    return judge(leak.rate, {
      limit: { kind: 'max', value: slips ? slipLimit : weldedLimit },
      ...(slips && { advisory: { kind: 'max', value: slipAdvisory } }),
      guard: open + 0.05 * (slips ? slipAdvisory : weldedLimit),
      message: 'decay',
      data: { thermal: leak.thermalChange },
    });
  },
});
