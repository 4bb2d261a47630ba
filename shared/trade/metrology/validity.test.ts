import { validityTable } from '../../../tests/support/validityTable.ts';
import { conformity } from './conformity.ts';
import { pressureDecayLeak } from './pressure-decay-leak.ts';
import { targetRegistrationError } from './target-registration-error.ts';

validityTable({
  name: 'conformity',
  call: ({ measured, uncertainty, factor }) => conformity(measured, uncertainty, { lower: 1, upper: 2 }, factor),
  good: { measured: 1.5, uncertainty: 0.1, factor: 2 },
  rows: {
    measured: ['unit of the measurement', -1e12, 1e12],
    uncertainty: ['unit of the measurement', 0, 1e12],
    factor: ['ratio', 0, 10],
  },
});

validityTable({
  name: 'pressure decay',
  call: pressureDecayLeak,
  good: {
    volume: 0.005,
    startPressure: 2e5,
    endPressure: 1.99e5,
    startTemperature: 293,
    endTemperature: 293.5,
    duration: 300,
  },
  rows: {
    volume: ['volume', 1e-6, 1],
    startPressure: ['pressure', 1e3, 2e6],
    endPressure: ['pressure', 0, 2e6],
    startTemperature: ['temperature', 250, 400],
    endTemperature: ['temperature', 250, 400],
    duration: ['time', 1, 1e6],
  },
});

validityTable({
  name: 'target registration error',
  call: ({ localisationError }) =>
    targetRegistrationError(
      [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
      ],
      [1, 1, 1],
      localisationError,
    ),
  good: { localisationError: 1e-4 },
  rows: { localisationError: ['length', 0, 0.01] },
});
