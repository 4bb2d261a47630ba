import { describe, expect, it } from 'vitest';
import { arcEnergy } from '../../shared/trade/weld/arc-energy.ts';
import { heatInput } from '../../shared/trade/weld/heat-input.ts';
import { purgeTime } from '../../shared/trade/weld/purge-time.ts';
import { purgeTimePlugFlow } from '../../shared/trade/weld/purge-time-plug-flow.ts';
import { expectNear, knownValue } from './nearness.ts';

describe('heat input', () => {
  // WE-14a, own arithmetic: 1.6 mm tube butt, 10 V, 60 A, 100 mm/min.
  it('WE-14a', () => {
    const energy = knownValue(arcEnergy.evaluate({ voltage: 10, current: 60, travelSpeed: 0.1 / 60 }));
    expectNear(energy, 0.36e6, 1e-3);
    expectNear(knownValue(heatInput.evaluate({ arcEnergy: energy, thermalEfficiency: 0.6 })), 0.216e6, 1e-3);
  });

  // WE-14b, published worked line: 10 V, 110 A, 2 in/min gives 33.0 and 19.8 kJ/in.
  it('WE-14b', () => {
    const energy = knownValue(arcEnergy.evaluate({ voltage: 10, current: 110, travelSpeed: (2 * 0.0254) / 60 }));
    expectNear(energy * 0.0254, 33e3, 1e-3);
    const heat = knownValue(heatInput.evaluate({ arcEnergy: energy, thermalEfficiency: 0.6 }));
    expectNear(heat * 0.0254, 19.8e3, 1e-3);
    expectNear(heat, 0.779528e6, 1e-3);
  });

  // WE-14c, own arithmetic, instantaneous power form (ASME IX QW-409.1(c) type): 520 W for 120 s over 150 mm.
  it('WE-14c as steady current of the same power', () => {
    expectNear(knownValue(arcEnergy.evaluate({ voltage: 10, current: 52, travelSpeed: 0.15 / 120 })), 0.416e6, 1e-3);
  });
});

describe('purge', () => {
  const air = { volume: 2e-3, flow: 8e-3 / 60, residual: 0, initial: 0.209, deadLegFactor: 1 };

  // WE-15b to WE-15d, own arithmetic: 2 L at 8 L/min from air.
  it.each([
    [100e-6, 7.64492, 114.674],
    [1000e-6, 5.34233, 80.135],
    [10e-6, 9.9475, 149.213],
  ])('to %d', (target, volumeChanges, seconds) => {
    const time = knownValue(purgeTime.evaluate({ ...air, target }));
    expectNear(time, seconds, 1e-3);
    expectNear((time * air.flow) / air.volume, volumeChanges, 1e-3);
  });

  // WE-15f, own arithmetic: oxygen left after five and ten volumes.
  it.each([
    [5, 1408.23e-6],
    [10, 9.48859e-6],
  ])('%d volumes', (volumes, target) => {
    const time = knownValue(purgeTime.evaluate({ ...air, target }));
    expectNear(time / knownValue(purgeTimePlugFlow.evaluate({ volume: air.volume, flow: air.flow })), volumes, 1e-3);
  });

  it('dead legs multiply it, plug flow is below it, dirty gas lengthens it', () => {
    const plain = knownValue(purgeTime.evaluate({ ...air, target: 100e-6 }));
    expectNear(knownValue(purgeTime.evaluate({ ...air, target: 100e-6, deadLegFactor: 3 })), 3 * plain, 1e-12);
    expect(knownValue(purgeTimePlugFlow.evaluate({ volume: air.volume, flow: air.flow }))).toBeLessThan(plain);
    expect(knownValue(purgeTime.evaluate({ ...air, target: 100e-6, residual: 50e-6 }))).toBeGreaterThan(plain);
  });

  it('a target the gas cannot reach is inconsistent, a target already met takes no time', () => {
    expect(purgeTime.evaluate({ ...air, target: 1e-5, residual: 1e-5 })).toMatchObject({
      known: false,
      why: { reason: 'inconsistent' },
    });
    expect(knownValue(purgeTime.evaluate({ ...air, target: 0.209 }))).toBe(0);
  });
});
