import { validityTable } from '../../../tests/support/validityTable.ts';
import { boreCrown } from './bore-crown.ts';
import { buildTime, energyDensity } from './build-time.ts';
import { powderCharge } from './powder-charge.ts';
import { printCost } from './print-cost.ts';

validityTable({
  name: 'bore-crown',
  call: boreCrown,
  good: { diameter: 0.04, limitAngle: 0.7, tilt: 0.3 },
  rows: { diameter: ['length', 1e-4, 0.3], limitAngle: ['angle', 0.1, 1.4], tilt: ['angle', 0, 1.5707963267948966] },
});

const scan = { height: 0.1, layer: 4e-5, scanSpeed: 0.96, hatch: 1.1e-4 };
validityTable({
  name: 'build-time',
  call: (times) => buildTime({ ...scan, ...times }),
  good: { partVolume: 1e-4, supportVolume: 1e-5, recoatTime: 10, efficiency: 0.6, overhead: 1e4 },
  rows: {
    partVolume: ['volume', 0, 0.05],
    supportVolume: ['volume', 0, 0.05],
    recoatTime: ['time', 1, 120],
    efficiency: ['ratio', 0.05, 12],
    overhead: ['time', 0, 1e6],
  },
});

validityTable({
  name: 'energy-density',
  call: ({ power }) => energyDensity(power, scan),
  good: { power: 285 },
  rows: { power: ['power', 10, 2000] },
});

validityTable({
  name: 'powder-charge',
  call: powderCharge,
  good: {
    bedLength: 0.25,
    bedWidth: 0.25,
    height: 0.2,
    solidVolume: 1e-4,
    density: 8440,
    packing: 0.58,
    dosing: 1.5,
  },
  rows: {
    bedLength: ['length', 0.02, 1.5],
    bedWidth: ['length', 0.02, 1.5],
    height: ['length', 1e-4, 1],
    solidVolume: ['volume', 0, 0.5],
    density: ['density', 1000, 2e4],
    packing: ['share', 0.3, 0.75],
    dosing: ['ratio', 1, 3],
  },
});

validityTable({
  name: 'print-cost',
  call: printCost,
  good: { machineTime: 3600, hourlyRate: 80, solidVolume: 1e-4, density: 8440, powderLoss: 1.2, powderPrice: 90 },
  rows: {
    machineTime: ['time', 0, 1e7],
    hourlyRate: ['ratio', 0, 1e5],
    solidVolume: ['volume', 0, 0.5],
    density: ['density', 1000, 2e4],
    powderLoss: ['ratio', 1, 3],
    powderPrice: ['ratio', 0, 1e5],
  },
});
