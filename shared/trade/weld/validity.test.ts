import { validityTable } from '../../../tests/support/validityTable.ts';
import { gasDensity } from './gas-density.ts';
import { arcEnergyFromEnergy, arcEnergyFromPower, pulsePower } from './pulse-power.ts';
import { pressureDecay, testEnergy } from './test-energy.ts';
import { torchTop } from './torch-top.ts';
import { shortLengthLimit, weldQualityLimit } from './weld-quality.ts';

validityTable({
  name: 'gas-density',
  call: ({ molarMass, temperature, pressure }) => gasDensity(molarMass, temperature, pressure),
  good: { molarMass: 0.039948, temperature: 293.15, pressure: 101325 },
  rows: {
    molarMass: ['kg/mol', 1e-3, 0.2],
    temperature: ['temperature', 200, 1500],
    pressure: ['pressure', 1e3, 1e6],
  },
});

const pulse = { peak: 120, background: 40, peakVoltage: 13, backgroundVoltage: 10, duty: 0.4 };
validityTable({
  name: 'pulse-power',
  call: (voltages) => pulsePower({ ...pulse, ...voltages }),
  good: { peakVoltage: 13, backgroundVoltage: 10 },
  rows: { peakVoltage: ['voltage', 1, 60], backgroundVoltage: ['voltage', 1, 60] },
});

validityTable({
  name: 'arc-energy-from-power',
  call: ({ power, time, length }) => arcEnergyFromPower(power, time, length),
  good: { power: 900, time: 60, length: 0.1 },
  rows: { power: ['power', 0, 60e3], time: ['time', 0.1, 1e5], length: ['length', 1e-3, 100] },
});

validityTable({
  name: 'arc-energy-from-energy',
  call: ({ energy, length }) => arcEnergyFromEnergy(energy, length),
  good: { energy: 5e4, length: 0.1 },
  rows: { energy: ['J', 0, 1e9], length: ['length', 1e-3, 100] },
});

validityTable({
  name: 'test-energy',
  call: testEnergy,
  good: { volume: 0.005, gaugePressure: 1e5, surroundings: 101325, gamma: 1.4, bulkModulus: 2.2e9 },
  rows: {
    volume: ['volume', 1e-6, 10],
    gaugePressure: ['pressure', 1, 1e7],
    surroundings: ['pressure', 5e4, 1.2e5],
    gamma: ['ratio', 1.05, 1.7],
    bulkModulus: ['pressure', 1e8, 1e10],
  },
});

validityTable({
  name: 'pressure-decay',
  call: pressureDecay,
  good: { volume: 0.005, drop: 100, time: 60, pressure: 2e5, temperature: 293 },
  rows: {
    volume: ['volume', 1e-6, 10],
    drop: ['pressure', 0, 1e6],
    time: ['time', 0.1, 1e6],
    pressure: ['pressure', 5e4, 1e7],
    temperature: ['temperature', 230, 400],
  },
});

validityTable({
  name: 'torch-top',
  call: ({ length, diameter, tilt }) => torchTop(length, diameter, tilt),
  good: { length: 0.1, diameter: 0.02, tilt: 0.3 },
  rows: { length: ['length', 0.01, 0.5], diameter: ['length', 5e-3, 0.1], tilt: ['angle', 0, 1.3] },
});

validityTable({
  name: 'weld-quality',
  call: (size) => weldQualityLimit('undercut', 'D', size),
  good: { wall: 2e-3, beadWidth: 5e-3 },
  rows: { wall: ['length', 0.5e-3, 20e-3], beadWidth: ['length', 0, 30e-3] },
});

validityTable({
  name: 'short-length',
  call: ({ length }) => shortLengthLimit(length),
  good: { length: 0.1 },
  rows: { length: ['length', 0, 100] },
});
